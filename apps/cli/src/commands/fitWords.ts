// What the glide fit says of its options, in the words of the command.

const WORDS: readonly (readonly [RegExp, string])[] = [
  [/\bfromS\b/g, '--from'],
  [/\btoS\b/g, '--to'],
  [/\bwind: '(known|estimated)'/g, '--wind $1'],
];

/** A sentence of the package, naming the options that a person types. */
export function inCommandWords(sentence: string): string {
  return WORDS.reduce((said, [word, typed]) => said.replace(word, typed), sentence);
}

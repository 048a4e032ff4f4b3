// A number as people and programs write it in text, faster than Number() and without the spellings that only programs use.

/** With so many digits, the digits and the power of ten are both exact doubles, and one division rounds once (IEEE 754). */
const EXACT_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: EXACT_DIGITS + 1 }, (_, power) => Number(`1e${power}`));
const POINT = 46;
const MINUS = 45;
const PLUS = 43;
const ZERO = 48;
const NINE = 57;

/**
 * The number a text writes with digits, sign, point and exponent, exactly as Number() reads it; NaN for anything else,
 * spaces, hexadecimal and `Infinity` included.
 *
 * @param from Where in the text it begins. @param to Where it ends, this place left out.
 */
export function plainNumber(text: string, from = 0, to = text.length): number {
  const first = from < to ? text.charCodeAt(from) : Number.NaN;
  let index = first === MINUS || first === PLUS ? from + 1 : from;
  let digits = 0;
  let decimals = -1;
  let value = 0;
  for (; index < to; index += 1) {
    const code = text.charCodeAt(index);
    if (code >= ZERO && code <= NINE) {
      value = value * 10 + (code - ZERO);
      digits += 1;
      if (decimals >= 0) decimals += 1;
    } else if (code === POINT && decimals < 0) decimals = 0;
    else return numberIfPlain(text.slice(from, to));
  }
  if (digits === 0) return Number.NaN;
  if (digits > EXACT_DIGITS) return Number(text.slice(from, to));
  if (decimals > 0) value /= POWERS_OF_TEN[decimals] as number;
  return first === MINUS ? -value : value;
}

/** Digits, signs, points and exponents only: what Number() then takes is a plain number. */
function numberIfPlain(text: string): number {
  return /^[\d.eE+-]+$/.test(text) ? Number(text) : Number.NaN;
}

// All attempts that a debrief server lists, page by page.
import { AttemptList } from '@stillprop/contracts';

export async function attemptsAt(server: string): Promise<AttemptList['attempts']> {
  const attempts: AttemptList['attempts'] = [];
  let before: string | null = null;
  do {
    const from: string = before === null ? '' : `&before=${encodeURIComponent(before)}`;
    const page = AttemptList.parse(await (await fetch(`${server}/api/attempts?limit=50${from}`)).json());
    attempts.push(...page.attempts);
    before = page.next;
  } while (before !== null);
  return attempts;
}

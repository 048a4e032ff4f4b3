// The place in the list of attempts where the next page goes on: start time and attempt id, as one word for a URL.

/** Sort key of an attempt: newest first, then by id. */
export interface Cursor {
  readonly startedAt: string;
  readonly attemptId: string;
}

const FORM = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)_([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})$/;

export function cursorOf({ startedAt, attemptId }: Cursor): string {
  return `${startedAt}_${attemptId}`;
}

/** What `cursorOf` wrote, or undefined for anything else. */
export function parseCursor(text: string): Cursor | undefined {
  const [, startedAt, attemptId] = FORM.exec(text) ?? [];
  return startedAt === undefined || attemptId === undefined ? undefined : { startedAt, attemptId };
}

// The attempt that was deleted a moment ago: handed from its page to the list, which offers to undo it.
let attemptId: string | null = null;

export function tellDeleted(id: string) {
  attemptId = id;
}

/** Gives it once: whoever leaves the list is not asked again. */
export function takeDeleted(): string | null {
  const taken = attemptId;
  attemptId = null;
  return taken;
}

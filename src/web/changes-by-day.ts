// The history in days, newest first as it came. Pure.

export interface DayOfChanges<Change> {
  day: string;
  changes: Change[];
}

/** @param dayOf the day of a time in the reader's calendar, as text */
export function changesByDay<Change extends { at: string }>(
  changes: readonly Change[],
  dayOf: (at: string) => string,
): DayOfChanges<Change>[] {
  const days: DayOfChanges<Change>[] = [];
  for (const change of changes) {
    const day = dayOf(change.at);
    const last = days.at(-1);
    if (last?.day === day) last.changes.push(change);
    else days.push({ day, changes: [change] });
  }
  return days;
}

import { describe, expect, it } from 'vitest';
import { changesByDay } from '../../src/web/changes-by-day.ts';

describe('changesByDay', () => {
  it('keeps the order and begins a new day where the date turns', () => {
    const changes = ['2024-03-02T08:00', '2024-03-02T07:00', '2024-03-01T23:59'].map((at) => ({ at }));
    const days = changesByDay(changes, (at) => at.slice(0, 10));
    expect(days.map(({ day, changes: some }) => [day, some.length])).toEqual([
      ['2024-03-02', 2],
      ['2024-03-01', 1],
    ]);
  });

  it('makes no day of nothing', () => {
    expect(changesByDay([], () => '')).toEqual([]);
  });
});

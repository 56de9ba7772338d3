import { describe, expect, it } from 'vitest';
import { stateOf } from '../../src/records/state-of-file.ts';

describe('stateOf', () => {
  const treatment = (id: string, label: string) =>
    ({ id, createdAt: '2024-01-01T00:00:00Z', body: { label, startedAt: null } }) as never;
  const treatments = [treatment('t1', 'D07-b conversion'), treatment('t2', 'D07-b oxygen')];

  it('takes the treatment that the file names, though a later one is recorded', () => {
    expect(stateOf(treatments, 'x.txt', ['State: D07-b conversion']).stateTreatmentId).toBe('t1');
  });

  it('takes the piece as grown where the file name says so', () => {
    expect(stateOf(treatments, 'xrd_D07-b_asgrown.txt', []).stateTreatmentId).toBeNull();
  });

  it('takes the last treatment otherwise, and none where there is none', () => {
    expect(stateOf(treatments, 'x.txt', []).stateTreatmentId).toBe('t2');
    expect(stateOf([], 'x.txt', []).stateTreatmentId).toBeNull();
  });

  it('takes the longer of two labels that both stand in the file', () => {
    const two = [treatment('short', 'oxygen'), treatment('long', 'oxygen again')];
    expect(stateOf(two, 'x', ['after oxygen again']).stateTreatmentId).toBe('long');
  });
});

import { describe, expect, it } from 'vitest';
import { ratioParameter, readRatio } from '../../src/web/compositions.ts';

describe('a ratio in an address', () => {
  it.each([
    [{ Y: 1, Ba: 2, Cu: 3 }, '1:2:3'],
    [{ Y: 1, Ba: 2.44, Cu: 4.02 }, '1:2.44:4.02'],
    [{ Cu: 3, Ba: 2 }, '0:2:3'],
    [{ Y: 0.5, Gd: 0.5, Ba: 2, Cu: 3 }, 'Y0.5 Gd0.5 Ba2 Cu3'],
  ])('carries %o as it was typed', (cations, text) => {
    expect(ratioParameter(cations, 'Y')).toBe(text);
    expect(readRatio(text, 'Y')).toMatchObject({ cations });
  });
});

describe('a typed ratio', () => {
  it.each([
    ['1:2,3:3,8', { Y: 1, Ba: 2.3, Cu: 3.8 }],
    ['YBa2.3Cu3.8', { Y: 1, Ba: 2.3, Cu: 3.8 }],
    ['Y0,5 Gd0,5 Ba2 Cu3', { Y: 0.5, Gd: 0.5, Ba: 2, Cu: 3 }],
    ['Y1,Ba2,Cu3', { Y: 1, Ba: 2, Cu: 3 }],
  ])('is read from %s', (text, cations) => {
    expect(readRatio(text, 'Y')).toEqual({ cations });
  });

  it('leaves out the oxygen of a formula', () => {
    expect(readRatio('YBa2Cu3O7', 'Y')).toEqual({ cations: { Y: 1, Ba: 2, Cu: 3 } });
  });

  it.each(['1,2,3', '1:2', '-1:2:3', '0:0:0', 'O7', 'Ya1 Ba2 Cu3', 'Y1 Ba2 Cu3 x', 'Y1 Ba2 Cu-3.5.1'])(
    'is refused in words: %s',
    (text) => {
      expect(readRatio(text, 'Y')).toHaveProperty('fault');
    },
  );
});

describe('an amount beyond what a record takes', () => {
  it.each(['1e20:2:3', '1e300:2:3'])('is refused in words: %s', (text) => {
    expect(readRatio(text, 'Y')).toEqual({ fault: expect.stringMatching(/expected at most 1000000/) });
  });
});

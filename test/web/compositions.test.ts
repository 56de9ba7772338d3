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

import { describe, expect, it } from 'vitest';
import { contrastRatio, evenSteps, lightnessOf, relativeLuminance } from '../../src/charts/colour.ts';
import {
  chartStyleSheet,
  SERIES_ROLES,
  SHADE_COUNT,
  TEXT_ROLES,
  THEME_NAMES,
  THEMES,
  VERDICT_LOOKS,
} from '../../src/charts/theme.ts';

const shades = (theme: (typeof THEME_NAMES)[number]) =>
  Array.from({ length: SHADE_COUNT }, (_, i) => THEMES[theme][`shade${i}` as 'shade0']);

describe('contrast', () => {
  it('is 21 between black and white and 1 between like colours', () => {
    expect(contrastRatio('#000000', '#ffffff')).toBeCloseTo(21, 12);
    expect(contrastRatio('#0b5cad', '#0b5cad')).toBe(1);
  });

  // [memory: the well-known example of the guidelines: #767676 is the lightest grey that passes on white, 4.54]
  it('puts the grey #767676 just above 4.5 on white and #777777 just below', () => {
    expect(contrastRatio('#767676', '#ffffff')).toBeGreaterThan(4.5);
    expect(contrastRatio('#777777', '#ffffff')).toBeLessThan(4.5);
  });

  it.each(THEME_NAMES)('is at least 4.5 for every colour of text on the %s background', (theme) => {
    for (const role of TEXT_ROLES) {
      expect(contrastRatio(THEMES[theme][role], THEMES[theme].background), role).toBeGreaterThanOrEqual(4.5);
    }
  });

  it.each(THEME_NAMES)('is at least 4.5 for ink on every shade of the %s theme', (theme) => {
    for (const shade of shades(theme)) {
      expect(contrastRatio(THEMES[theme].ink, shade)).toBeGreaterThanOrEqual(4.5);
    }
  });

  it.each(THEME_NAMES)('is at least 3 for every mark of a verdict on the %s background', (theme) => {
    for (const { role } of Object.values(VERDICT_LOOKS)) {
      expect(contrastRatio(THEMES[theme][role], THEMES[theme].background), role).toBeGreaterThanOrEqual(3);
    }
  });
});

describe('shades', () => {
  it('begin and end where they should, with grey kept grey', () => {
    const steps = evenSteps('#000000', '#ffffff', 5);
    expect(steps[0]).toBe('#000000');
    expect(steps[4]).toBe('#ffffff');
    for (const step of steps) expect(step.slice(1, 3)).toBe(step.slice(3, 5));
    expect(lightnessOf('#ffffff')).toBeCloseTo(1, 6);
  });

  it.each(THEME_NAMES)(
    'of the %s theme move in one direction by even steps of perceived lightness',
    (theme) => {
      const lightness = shades(theme).map(lightnessOf);
      const steps = lightness.slice(1).map((value, i) => value - lightness[i]!);
      const mean = (lightness.at(-1)! - lightness[0]!) / (SHADE_COUNT - 1);
      for (const step of steps) expect(Math.abs(step / mean - 1)).toBeLessThan(0.15); // eight-bit rounding
    },
  );
});

describe('verdicts', () => {
  it('differ in shape, so that no colour needs to be seen', () => {
    const looks = Object.values(VERDICT_LOOKS);
    expect(new Set(looks.map(({ shape }) => shape)).size).toBe(looks.length);
  });

  it.each(THEME_NAMES)('differ in luminance or filling in the %s theme', (theme) => {
    const { passes, 'falls short': short } = VERDICT_LOOKS;
    const ratio = contrastRatio(THEMES[theme][passes.role], THEMES[theme][short.role]);
    expect(ratio).toBeGreaterThan(1.4);
  });
});

describe('style sheet', () => {
  it('names every colour of every theme, and paper last', () => {
    const sheet = chartStyleSheet(':root', '[data-dark]');
    for (const theme of THEME_NAMES)
      for (const hex of Object.values(THEMES[theme])) expect(sheet).toContain(hex);
    expect(sheet.indexOf('@media print')).toBeGreaterThan(sheet.indexOf('[data-dark]'));
    expect(SERIES_ROLES.length).toBe(6);
    expect(relativeLuminance(THEMES.print.background)).toBe(1);
  });
});

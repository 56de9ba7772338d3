// The colours of every chart by the part they play, for light and dark pages and for paper.
import { evenSteps } from './colour.ts';

export const THEME_NAMES = ['light', 'dark', 'print'] as const;
export type ThemeName = (typeof THEME_NAMES)[number];

/** Shades of a probability, from none to certain. */
export const SHADE_COUNT = 10;
const SHADE_ROLES = [
  'shade0',
  'shade1',
  'shade2',
  'shade3',
  'shade4',
  'shade5',
  'shade6',
  'shade7',
  'shade8',
  'shade9',
] as const;
/** Colours of curves in the order of use; each also differs in lightness or dash. */
export const SERIES_ROLES = ['series1', 'series2', 'series3', 'series4', 'series5', 'series6'] as const;

export type ColourRole =
  | 'background'
  | 'ink'
  | 'quiet'
  | 'axis'
  | 'grid'
  | 'accent'
  | 'passes'
  | 'fallsShort'
  | 'cannotSay'
  | (typeof SERIES_ROLES)[number]
  | (typeof SHADE_ROLES)[number];

export type Theme = Readonly<Record<ColourRole, string>>;

/** Roles in which text is written; a test holds each to a contrast of 4.5. */
export const TEXT_ROLES = [
  'ink',
  'quiet',
  'accent',
  ...SERIES_ROLES,
] as const satisfies readonly ColourRole[];

type FlatTheme = Omit<Theme, (typeof SHADE_ROLES)[number]>;

function withShades(flat: FlatTheme, from: string, to: string): Theme {
  const shades = evenSteps(from, to, SHADE_COUNT);
  return {
    ...flat,
    ...(Object.fromEntries(SHADE_ROLES.map((role, i) => [role, shades[i]!])) as Record<
      (typeof SHADE_ROLES)[number],
      string
    >),
  };
}

const LIGHT: FlatTheme = {
  background: '#ffffff',
  ink: '#18212c',
  quiet: '#556171',
  axis: '#8b95a1',
  grid: '#e2e6eb',
  accent: '#0b5cad',
  passes: '#18212c',
  fallsShort: '#b0430a',
  cannotSay: '#5d6874',
  series1: '#0b5cad',
  series2: '#b0430a',
  series3: '#1d7a5c',
  series4: '#7d3c8c',
  series5: '#6b5d00',
  series6: '#4a5562',
};

/** Shades stop half way, so that ink is legible on the deepest of them. */
export const THEMES: Readonly<Record<ThemeName, Theme>> = {
  light: withShades(LIGHT, '#f6faf9', '#45a899'),
  dark: withShades(
    {
      background: '#14181d',
      ink: '#eaeef2',
      quiet: '#a7b1bc',
      axis: '#6f7a86',
      grid: '#2b323a',
      accent: '#74b6f4',
      passes: '#eaeef2',
      fallsShort: '#f29c62',
      cannotSay: '#a7b1bc',
      series1: '#74b6f4',
      series2: '#f29c62',
      series3: '#66c9a6',
      series4: '#d49ade',
      series5: '#d3c765',
      series6: '#b9c2cc',
    },
    '#181e23',
    '#1f7568',
  ),
  print: withShades(
    { ...LIGHT, ink: '#000000', passes: '#000000', quiet: '#3d464f', axis: '#5d6874', grid: '#d5dade' },
    '#fafcfb',
    '#62b8ab',
  ),
};

/** The verdicts' marks: the same shape and colour everywhere. */
export const VERDICT_LOOKS = {
  passes: { shape: 'circle', role: 'passes', isFilled: true },
  'falls short': { shape: 'cross', role: 'fallsShort', isFilled: false },
  'cannot say': { shape: 'square', role: 'cannotSay', isFilled: false },
} as const;
export type VerdictName = keyof typeof VERDICT_LOOKS;

const variableOf = (role: ColourRole): string => `--chart-${role}`;

/** A colour as an attribute's value: fixed by a theme, or left to the page (with light as what is used without one). */
export function colourValue(role: ColourRole, theme: ThemeName | 'page'): string {
  return theme === 'page' ? `var(${variableOf(role)}, ${THEMES.light[role]})` : THEMES[theme][role];
}

function declarations(theme: ThemeName): string {
  return Object.entries(THEMES[theme])
    .map(([role, hex]) => `${variableOf(role as ColourRole)}:${hex}`)
    .join(';');
}

/**
 * Style sheet that gives the page's charts their colours.
 * @param selector     what holds the charts: `:root`, or `svg` in a document of its own
 * @param darkSelector what marks a dark page, as `[data-mode="dark"]`; if left out, the reader's system decides
 */
export function chartStyleSheet(selector: string, darkSelector?: string): string {
  const dark = darkSelector
    ? `${darkSelector}{${declarations('dark')}}`
    : `@media (prefers-color-scheme:dark){${selector}{${declarations('dark')}}}`;
  const printed = darkSelector ? `${selector},${darkSelector}` : selector;
  return `${selector}{${declarations('light')}}${dark}@media print{${printed}{${declarations('print')}}}`;
}

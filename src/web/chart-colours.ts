// Gives every chart on the pages its colours, light, dark and on paper. Set through the style interface, not as text in
// the page, so that the content policy may forbid inline styles.
import { chartStyleSheet } from '../charts/theme.ts';

export function adoptChartColours(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(chartStyleSheet(':root', ':root[data-mantine-color-scheme="dark"]'));
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}

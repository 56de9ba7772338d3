// One accent, dark enough for white text at 4.5:1; everything else is grey.
import { Anchor, createTheme, type MantineColorsTuple } from '@mantine/core';

const teal: MantineColorsTuple = [
  '#e6f4f4',
  '#cfe6e7',
  '#9fcdd0',
  '#6bb2b7',
  '#429ca2',
  '#268e95',
  '#0f7c84',
  '#0b6e75',
  '#065f66',
  '#004f55',
];

export const theme = createTheme({
  primaryColor: 'accent',
  primaryShade: { light: 7, dark: 6 },
  colors: { accent: teal },
  fontFamily: 'system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif',
  headings: {
    fontWeight: '600',
    sizes: { h1: { fontSize: '1.45rem' }, h2: { fontSize: '1.1rem' }, h3: { fontSize: '1rem' } },
  },
  defaultRadius: 'sm',
  cursorType: 'pointer',
  // a link inside a sentence is known by its line, not by its colour alone
  components: { Anchor: Anchor.extend({ defaultProps: { underline: 'always' } }) },
});

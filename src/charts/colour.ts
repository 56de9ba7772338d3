// Colour arithmetic: contrast of text and even steps of a shade. sRGB hex text in and out.

type Triple = readonly [number, number, number];

const linearFromSrgb = (share: number): number =>
  share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
const srgbFromLinear = (share: number): number =>
  share <= 0.0031308 ? share * 12.92 : 1.055 * share ** (1 / 2.4) - 0.055;

function linearOf(hex: string): Triple {
  const channel = (at: number) => linearFromSrgb(Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return [channel(1), channel(3), channel(5)];
}

/**
 * Relative luminance Y = 0.2126 R + 0.7152 G + 0.0722 B of linear light.
 *
 * @param hex `#rrggbb`
 * @returns 0 (black) to 1 (white)
 *
 * Source: [memory: IEC 61966-2-1:1999, sRGB; W3C, Web Content Accessibility Guidelines 2.2, relative luminance].
 */
export function relativeLuminance(hex: string): number {
  const [r, g, b] = linearOf(hex);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/**
 * Contrast ratio (Y1 + 0.05) / (Y2 + 0.05), the lighter first: 1 to 21. Text needs 4.5.
 * Source: [memory: W3C, Web Content Accessibility Guidelines 2.2, success criterion 1.4.3].
 */
export function contrastRatio(hexA: string, hexB: string): number {
  const [light, dark] = [relativeLuminance(hexA), relativeLuminance(hexB)].sort((a, b) => b - a);
  return (light! + 0.05) / (dark! + 0.05);
}

// Linear sRGB to cone response, and its cube root to (lightness, green-red, blue-yellow).
// [memory: B. Ottosson 2020, "A perceptual color space for image processing"; checked in the test: white is (1, 0, 0),
// grey has no hue and the way back returns every colour]
function labOf(hex: string): Triple {
  const [r, g, b] = linearOf(hex);
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function hexOf([lightness, greenRed, blueYellow]: Triple): string {
  const l = (lightness + 0.3963377774 * greenRed + 0.2158037573 * blueYellow) ** 3;
  const m = (lightness - 0.1055613458 * greenRed - 0.0638541728 * blueYellow) ** 3;
  const s = (lightness - 0.0894841775 * greenRed - 1.291485548 * blueYellow) ** 3;
  const channels = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  const byte = (share: number) =>
    Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, share))))
      .toString(16)
      .padStart(2, '0');
  return `#${channels.map(byte).join('')}`;
}

/** Perceived lightness of a colour, 0 to 1. */
export const lightnessOf = (hex: string): number => labOf(hex)[0];

/**
 * n colours from one to another in steps that look equal.
 * @param n at least 2; the first and last are the colours given
 */
export function evenSteps(fromHex: string, toHex: string, n: number): string[] {
  const from = labOf(fromHex);
  const to = labOf(toHex);
  return Array.from({ length: n }, (_, i) => {
    const share = i / (n - 1);
    const mix = (axis: 0 | 1 | 2) => from[axis] + share * (to[axis] - from[axis]);
    return hexOf([mix(0), mix(1), mix(2)]);
  });
}

// The answer of `equilibrium.fields` as the triangle draws it.
import type { TriangleRequest } from './triangle-scene.ts';

interface Point {
  readonly re: number;
  readonly ba: number;
  readonly cu: number;
}

/** The parts of the answer that are drawn. */
export interface FieldsAnswer {
  readonly re: ArrayLike<number>;
  readonly ba: ArrayLike<number>;
  readonly cu: ArrayLike<number>;
  readonly oddsLiquidAnd123: ArrayLike<number>;
  readonly tieLines: readonly { readonly corners: readonly Point[] }[];
  readonly phasePoints: readonly (Point & { readonly name: string })[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

/** Odds, closed tie triangles and the phases' places. */
export function fieldsOnTriangle(fields: FieldsAnswer): Pick<TriangleRequest, 'odds' | 'lines' | 'phases'> {
  const { re, ba, cu, oddsLiquidAnd123, tieLines, phasePoints } = fields;
  return {
    odds: { re, ba, cu, odds: oddsLiquidAnd123, of: 'liquid with 123' },
    lines: tieLines.map(({ corners }) => ({
      kind: 'tie line' as const,
      points: corners.length > 0 ? [...corners, corners[0]!] : [],
    })),
    phases: phasePoints.map(({ name, re: x, ba: y, cu: z }) => ({
      label: name,
      at: { re: x, ba: y, cu: z },
    })),
  };
}

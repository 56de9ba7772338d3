// The answer of `equilibrium.fields` as the triangle draws it.
import type { TernaryPoint } from '../../science/matter/cation-ratios.ts';
import { fieldLabels, shortFieldName } from '../odds/field-labels.ts';
import type { TriangleRequest } from './triangle-scene.ts';

/** The parts of the answer that are drawn. */
export interface FieldsAnswer {
  readonly re: ArrayLike<number>;
  readonly ba: ArrayLike<number>;
  readonly cu: ArrayLike<number>;
  readonly oddsLiquidAnd123: ArrayLike<number>;
  readonly medianField: ArrayLike<number>;
  readonly fieldNames: readonly string[];
  readonly tieLines: readonly { readonly corners: readonly TernaryPoint[] }[];
  readonly borders: readonly {
    readonly fields: readonly string[];
    readonly from: TernaryPoint;
    readonly to: TernaryPoint;
  }[];
  readonly phasePoints: readonly (TernaryPoint & { readonly name: string })[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

/** Share of the nodes below which a field is not named: its name would cover it. */
const SMALLEST_NAMED = 0.012;

const keyOf = ({ re, ba }: TernaryPoint): string => `${re.toFixed(7)} ${ba.toFixed(7)}`;

/** Pieces of border put end to end, those between the same two fields only. */
export function joinedBorders(borders: FieldsAnswer['borders']): TernaryPoint[][] {
  const between = Map.groupBy(borders, ({ fields }) => [...fields].sort().join(' | '));
  return [...between.values()].flatMap((pieces) => {
    const at = new Map<string, (typeof pieces)[number][]>();
    for (const piece of pieces)
      for (const end of [piece.from, piece.to]) at.set(keyOf(end), [...(at.get(keyOf(end)) ?? []), piece]);
    const left = new Set(pieces);
    const follow = (from: TernaryPoint): TernaryPoint[] => {
      const line = [from];
      for (let end = from; ; ) {
        const next = at.get(keyOf(end))?.find((piece) => left.has(piece));
        if (!next) return line;
        left.delete(next);
        end = keyOf(next.from) === keyOf(end) ? next.to : next.from;
        line.push(end);
      }
    };
    const lines: TernaryPoint[][] = [];
    // open ends first, so that no line begins in its middle
    const ends = pieces
      .flatMap(({ from, to }) => [from, to])
      .filter((end) => at.get(keyOf(end))!.length === 1);
    for (const end of [...ends, ...pieces.map(({ from }) => from)]) {
      const line = follow(end);
      if (line.length > 1) lines.push(line);
    }
    return lines;
  });
}

/** Odds, the melt's own edge, closed tie triangles, the phases' places and the names of the fields with liquid. */
export function fieldsOnTriangle(
  answer: FieldsAnswer,
): Pick<TriangleRequest, 'odds' | 'lines' | 'phases' | 'fields'> {
  const { re, ba, cu, oddsLiquidAnd123, medianField, fieldNames, tieLines, borders, phasePoints } = answer;
  const height = Float64Array.from(re, (share) => (share * Math.sqrt(3)) / 2);
  const across = Float64Array.from(cu, (share, i) => share + re[i]! / 2);
  const labels = fieldLabels(across, height, medianField, fieldNames, SMALLEST_NAMED * re.length);
  return {
    odds: { re, ba, cu, odds: oddsLiquidAnd123, of: 'liquid with 123' },
    lines: [
      ...tieLines.map(({ corners }) => ({
        kind: 'tie line' as const,
        points: corners.length > 0 ? [...corners, corners[0]!] : [],
      })),
      ...joinedBorders(borders).map((points) => ({ kind: 'border' as const, points })),
    ],
    fields: labels
      .filter(({ field }) => field.split(' + ').includes('liquid'))
      .map(({ field, node }) => ({
        label: shortFieldName(field),
        at: { re: re[node]!, ba: ba[node]!, cu: cu[node]! },
      })),
    phases: phasePoints.map(({ name, re: x, ba: y, cu: z }) => ({
      label: name,
      at: { re: x, ba: y, cu: z },
    })),
  };
}

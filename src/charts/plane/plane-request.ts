// What the map of temperature against oxygen pressure, or against composition, is asked to draw.
import type { Size } from '../scene.ts';
import type { FieldChange } from './joined-changes.ts';

/** A place of the map: x in atm, or the share of the way between two compositions. */
export interface PlanePoint {
  readonly x: number;
  readonly temperatureC: number;
}

/** Across: oxygen pressure on a logarithm, or the way from one composition to another. */
export type PlaneAcross =
  | { readonly kind: 'oxygen'; readonly fromAtm: number; readonly toAtm: number }
  | { readonly kind: 'composition'; readonly from: string; readonly to: string };

/** Whose lines and points are laid over: bulk equilibrium, films (which cross metastable ground), or the user's own. */
export type OverlayKind = 'bulk' | 'film' | 'own';

export interface PlaneRequest {
  readonly title: string;
  readonly across: PlaneAcross;
  readonly temperatureC: readonly [number, number];
  readonly caption?: string;
  readonly size?: Size;
  /** over columns of x and rows of temperature, row by row */
  readonly map?: {
    readonly x: ArrayLike<number>;
    readonly temperatureC: ArrayLike<number>;
    readonly odds: ArrayLike<number>;
    readonly of: string;
    /** of the median member, as an index into fieldNames */
    readonly field: ArrayLike<number>;
    readonly fieldNames: readonly string[];
    readonly changes: readonly FieldChange[];
  };
  readonly lines?: readonly {
    readonly id: string;
    readonly label: string;
    readonly source: string;
    readonly kind: OverlayKind;
    readonly points: readonly PlanePoint[];
  }[];
  readonly points?: readonly (PlanePoint & {
    readonly id: string;
    readonly label: string;
    readonly source: string;
    readonly kind: OverlayKind;
    /** published uncertainty; null where none is printed */
    readonly temperatureCU: number | null;
  })[];
  /** where phases stand together, with one standard deviation over the members; dashed where most members have it metastable */
  readonly reaction?: {
    readonly label: string;
    readonly points: readonly (PlanePoint & { readonly temperatureCU: number; readonly isStable: boolean })[];
  };
  /** a heat and gas path; its ends of steps are numbered */
  readonly path?: {
    readonly label: string;
    readonly points: readonly PlanePoint[];
    /** a number is written beside its end */
    readonly ends: readonly (PlanePoint & { readonly label: string; readonly number?: string })[];
    /** as commanded, where the path is what likely became of it */
    readonly command?: readonly PlanePoint[];
    /** as a chamber logged it */
    readonly logged?: readonly PlanePoint[];
  };
  readonly selected?: PlanePoint | null;
}

import { useMemo } from 'react';
import { pathScene } from '../../charts/path-chart.ts';
import type { Segment } from '../../records/kinds.ts';
import { ROOM_C } from '../drafts/treatment-draft.ts';
import { Figure } from './figure.tsx';

/** A heat and gas path against time: temperature above, oxygen pressure below. */
export function PathFigure({ title, segments }: { title: string; segments: readonly Segment[] }) {
  const scene = useMemo(
    () => pathScene({ title, startC: ROOM_C, steps: segments, size: { width: 640, height: 320 } }),
    [title, segments],
  );
  return <Figure scene={scene} />;
}

// What the diffraction entry answers, whole.
import type { z } from 'zod';
import type { diffractionScan } from '../computations/diffraction/scan.ts';

export type ScanAnswer = z.infer<(typeof diffractionScan)['response']>;

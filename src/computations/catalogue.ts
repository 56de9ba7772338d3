// Every capability once. A door reads this list and knows no entry by name; adding one is adding a line here.
import type { Computation } from './computation.ts';
import { currentLoop } from './current/loop.ts';
import { currentVoltage } from './current/voltage.ts';
import { diffractionScan } from './diffraction/scan.ts';
import { equilibriumAssemblage } from './equilibrium/assemblage.ts';
import { equilibriumFields } from './equilibrium/fields.ts';
import { equilibriumInvariant } from './equilibrium/invariant.ts';
import { equilibriumOxygen } from './equilibrium/oxygen.ts';
import { equilibriumUnivariant } from './equilibrium/univariant.ts';
import { equilibriumWindow } from './equilibrium/window.ts';
import { growthCoarsening } from './growth/coarsening.ts';
import { growthCracking } from './growth/cracking.ts';
import { growthDeposition } from './growth/deposition.ts';
import { growthEvaporation } from './growth/evaporation.ts';
import { growthLimit } from './growth/limit.ts';
import { growthOxygenation } from './growth/oxygenation.ts';
import { growthPath } from './growth/path.ts';
import { learningNext } from './learning/next.ts';
import { learningVerdict } from './learning/verdict.ts';
import { matterFormula } from './matter/formula.ts';
import { matterTernary } from './matter/ternary.ts';
import { targetBatch } from './target/batch.ts';
import { targetInvert } from './target/invert.ts';
import { targetSinter } from './target/sinter.ts';
import { targetSlip } from './target/slip.ts';
import { targetTransferFit } from './target/transfer-fit.ts';
import { transitionMagnetic } from './transition/magnetic.ts';
import { transitionResistive } from './transition/resistive.ts';

export const CATALOGUE: readonly Computation[] = [
  diffractionScan,
  equilibriumAssemblage,
  equilibriumFields,
  equilibriumInvariant,
  equilibriumOxygen,
  equilibriumUnivariant,
  equilibriumWindow,
  growthCoarsening,
  growthCracking,
  growthDeposition,
  growthEvaporation,
  growthLimit,
  growthOxygenation,
  growthPath,
  learningNext,
  learningVerdict,
  matterFormula,
  matterTernary,
  targetBatch,
  targetInvert,
  targetSinter,
  targetSlip,
  targetTransferFit,
  transitionResistive,
  transitionMagnetic,
  currentVoltage,
  currentLoop,
];

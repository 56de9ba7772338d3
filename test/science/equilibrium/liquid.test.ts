import { describe, expect, it } from 'vitest';
import {
  eutecticLineK,
  liquidAbovePlaneJPerMol,
  meltOxygenLossMol,
  publishedEutecticK,
  slopeOfCuprousShareKPerDecade,
} from '../../../src/science/equilibrium/liquid.ts';
import { nominalMember } from '../../../src/science/equilibrium/members.ts';

const { liquid } = nominalMember();

describe('the line 123 + BaCuO2 + CuO = liquid', () => {
  it('passes through the published temperature in air', () => {
    expect(eutecticLineK(liquid, 0.21)).toBeCloseTo(publishedEutecticK('eutectic-nist'), 9);
  });

  it('rises in air with the slope that the member was given', () => {
    const slope =
      (eutecticLineK(liquid, 0.21 * 1.001) - eutecticLineK(liquid, 0.21 / 1.001)) / (2 * Math.log10(1.001));
    expect(slope).toBeCloseTo(liquid.slopeKPerDecade, 3);
  });

  it.each([1, 0.21, 0.02, 1e-4])(
    'is where the liquid lies on the plane of the solids, at %d atm',
    (po2Atm) => {
      const lineK = eutecticLineK(liquid, po2Atm);
      expect(liquidAbovePlaneJPerMol(liquid, lineK, po2Atm)).toBeCloseTo(0, 7);
      expect(liquidAbovePlaneJPerMol(liquid, lineK - 1, po2Atm)).toBeGreaterThan(0);
      expect(liquidAbovePlaneJPerMol(liquid, lineK + 1, po2Atm)).toBeLessThan(0);
    },
  );

  it('gives back the Cu+ share that its slope was made from', () => {
    const slopeKPerDecade = slopeOfCuprousShareKPerDecade(0.8, liquid.eutecticAirK);
    const loss = meltOxygenLossMol({ ...liquid, slopeKPerDecade });
    expect((4 * loss) / (1 - liquid.reShare - liquid.baShare)).toBeCloseTo(0.8, 9);
  });

  it('never gives off more oxygen than turning all copper to Cu+ does', () => {
    const loss = meltOxygenLossMol({ ...liquid, slopeKPerDecade: 500 });
    expect(loss).toBeCloseTo((1 - liquid.reShare - liquid.baShare) / 4, 12);
  });

  it('obeys Maxwell: the height changes with the oxygen potential by the oxygen that leaves', () => {
    const temperatureK = 1100;
    const change =
      liquidAbovePlaneJPerMol(liquid, temperatureK, 0.2) - liquidAbovePlaneJPerMol(liquid, temperatureK, 0.1);
    expect(change).toBeCloseTo(meltOxygenLossMol(liquid) * 8.314462618 * temperatureK * Math.log(2), 8);
  });
});

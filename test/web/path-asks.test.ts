import { describe, expect, it } from 'vitest';
import { growthCoarsening } from '../../src/computations/growth/coarsening.ts';
import { growthCracking } from '../../src/computations/growth/cracking.ts';
import { growthLimit } from '../../src/computations/growth/limit.ts';
import { growthOxygenation } from '../../src/computations/growth/oxygenation.ts';
import { DomainError } from '../../src/science/errors.ts';
import {
  decadesText,
  drawnOddsText,
  quantityText,
  shareText,
  timeText,
} from '../../src/web/drafts/answer-words.ts';
import { COARSENING_SPECS, coarseningAsk } from '../../src/web/drafts/coarsening-ask.ts';
import { crackingAsk } from '../../src/web/drafts/cracking-ask.ts';
import { depositMiddleS, limitAsk, soluteOf, wantedRate } from '../../src/web/drafts/limit-ask.ts';
import { liquidAbove, liquidByPhases } from '../../src/web/drafts/liquid-time.ts';
import { oxygenationAsk } from '../../src/web/drafts/oxygenation-ask.ts';
import { inFieldWords, readInputs, refusedInput, usualText } from '../../src/web/drafts/stated-inputs.ts';
import { substrateRow } from '../../src/web/drafts/substrate-expansion.ts';

const FILM = {
  timeS: [0, 800, 900, 1000, 4000],
  temperatureC: [50, 850, 850, 850, 50],
  log10Po2Atm: [-5, -5, -5, 0, 0],
};
const MELTED = liquidAbove(FILM, 840);
const THICK = { value: 500, standardUncertainty: 20 };

describe('a substrate as it is written', () => {
  it.each([
    ['SrTiO3', 'SrTiO3'],
    ['SrTiO₃ (001), 5 x 5 mm', 'SrTiO3'],
    ['STO(100)', 'SrTiO3'],
    ['LaAlO3 (001)', 'LaAlO3'],
    ['r-plane sapphire', 'Al2O3'],
    ['CeO2 on YSZ', 'YSZ'],
    ['CeO2/YSZ', 'YSZ'],
    ['LaAlO3/SrTiO3', 'SrTiO3'],
    ['MgO on Si', 'Si'],
    ['CeO2/LaMnO3 on nickel-alloy tape', 'Ni-Cr-Mo'],
  ])('%s expands as %s', (written, row) => {
    expect(substrateRow(written)).toBe(row);
  });

  it.each(['', 'LSAT', 'tape', 'DyScO3', 'MgO or SrTiO3', 'SiC'])('%j is asked about', (written) => {
    expect(substrateRow(written)).toBeNull();
  });
});

describe('inputs that may be stated', () => {
  it('take the usual number where nothing is typed, and keep it where the text cannot be read', () => {
    const { values, typed, faults } = readInputs(COARSENING_SPECS, {
      interfacialEnergyJPerM2: '0,2 ± 0.1',
      volumeFraction: '2',
    });
    expect(typed).toEqual({ interfacialEnergyJPerM2: { value: 0.2, standardUncertainty: 0.1 } });
    expect(values.volumeFraction!.value).toBe(0.1);
    expect(faults.volumeFraction).toContain("Found '2'");
  });

  it('carry a refusal of the catalogue to their field, in its words', () => {
    const { request } = coarseningAsk(FILM, MELTED, {}, '211');
    let refusal: DomainError | null = null;
    try {
      growthCoarsening.run(
        growthCoarsening.request.parse({ ...request, dissolutionJPerMol: 1, referenceC: 1, nucleiPerM3: -1 }),
      );
    } catch (error) {
      refusal = error as DomainError;
    }
    expect(refusal).toBeInstanceOf(DomainError);
    expect(refusedInput(refusal, COARSENING_SPECS)).toMatchObject({
      key: 'nucleiPerM3',
      fault: expect.stringMatching(/^Nuclei is -1/),
    });
    expect(refusedInput({ sentence: 'Nothing of this.' }, COARSENING_SPECS)).toBeNull();
  });

  it('are said in words in remarks, and a plain word is left as it is', () => {
    const specs = [{ key: 'sticking', label: 'Sticking coefficient', limits: {}, usual: null, from: '' }];
    expect(inFieldWords('The sticking coefficient of thicknessNm at 850 degC, 0.1 +- 0.2.', specs)).toBe(
      'The sticking coefficient of the film’s thickness at 850 °C, 0.1 ± 0.2.',
    );
    expect(inFieldWords('112500000000 +- 2 times', [])).toBe('1.13×10¹¹ ± 2 times');
  });
});

describe('the request of coarsening', () => {
  it('leaves usual inputs to the entry, and is answered with both what-ifs and their joint one', () => {
    const { request, isDiffusionMoved } = coarseningAsk(FILM, MELTED, { energyFactor: '0.25' }, '211');
    expect(request).not.toHaveProperty('diffusivityM2PerS');
    expect(isDiffusionMoved).toBe(false);
    const answer = growthCoarsening.run(growthCoarsening.request.parse(request));
    expect(answer.whatIf.map(({ name }) => name)).toEqual([
      'interfacial energy times 0.25',
      'nuclei times 10',
      'both',
    ]);
    expect(answer.whatIf[1]!.startRadiusNm.value).toBeCloseTo(answer.startRadiusNm.value / 10 ** (1 / 3), 9);
    expect(answer.whatIf[2]!.finalRadiusNm.value).toBeLessThan(answer.finalRadiusNm.value);
  });

  it('counts a sesquioxide with less volume a rare earth than 211', () => {
    expect(coarseningAsk(FILM, MELTED, {}, 'RE2O3').request).toMatchObject({
      molarVolumeM3PerMol: { value: 2.3e-5 },
    });
  });

  it('grows in the hold with liquid alone, and less where its odds are less', () => {
    const final = (liquid: Parameters<typeof coarseningAsk>[1]) =>
      growthCoarsening.run(growthCoarsening.request.parse(coarseningAsk(FILM, liquid, {}, '211').request));
    const cube = (answer: ReturnType<typeof final>) =>
      answer.finalRadiusNm.value ** 3 - answer.startRadiusNm.value ** 3;
    const whole = final(MELTED);
    const half = final({
      ...MELTED,
      along: { ...MELTED.along, odds: MELTED.along.odds.map((odds) => odds / 2) },
    });
    expect(cube(half)).toBeCloseTo(cube(whole) / 2, 6);
    expect(
      final({ along: { timeS: [0], odds: [0] }, liquidS: MELTED.liquidS }).finalRadiusNm.value,
    ).toBeCloseTo(whole.startRadiusNm.value, 9);
  });

  it('takes the odds and the time of the phases, none where nothing was asked of them', () => {
    const none = { temperatureC: [], log10Po2Atm: [], segment: [], oddsWith123: [], share: [], flags: [] };
    const liquidS = { value: 40, standardUncertainty: 6, unit: 's' };
    const along = { timeS: [800, 900], odds: [0.9, 1] };
    const likely = liquidByPhases({ ...none, ...along, liquidS, liquidWith123S: liquidS, spans: [] })!;
    expect(likely).toMatchObject({ along, liquidS });
    const cold = liquidByPhases({
      ...none,
      timeS: [],
      odds: [],
      liquidS: null,
      liquidWith123S: null,
      spans: [],
    });
    expect(cold!.liquidS.value).toBe(0);
    expect(liquidByPhases(null)).toBeNull();
  });

  it('is not asked where liquid never is', () => {
    expect(coarseningAsk(FILM, null, {}, '211').request).toBeNull();
  });
});

describe('the request of what limits the rate', () => {
  const setting = {
    temperatureC: 850,
    po2Atm: 1e-3,
    when: 'then',
    wanted: { nmPerS: 5, from: 'plan' },
    thicknessNm: THICK,
    carrier: 'none' as const,
  };

  it('wants the rate of the deposition, else the thickness while liquid is there', () => {
    const deposit = { kind: 'deposit' as const, durationS: 100, thicknessNm: 500 };
    expect(wantedRate([deposit], THICK, 50)!.nmPerS).toBe(5);
    expect(wantedRate([], THICK, 50)!.nmPerS).toBe(10);
    expect(wantedRate([], THICK, 0)).toBeNull();
    expect(wantedRate([], null, 50)).toBeNull();
  });

  it('is asked for the middle of the deposition, and for none of a plan that cannot be', () => {
    const start = { temperatureC: 850, po2Atm: 1e-3 };
    const hold = { kind: 'hold' as const, durationS: 60 };
    expect(depositMiddleS(start, [hold, { kind: 'deposit', durationS: 100, thicknessNm: 5 }])).toBe(110);
    expect(depositMiddleS(start, [hold])).toBeNull();
    expect(depositMiddleS(start, [{ kind: 'ramp' }])).toBeNull();
  });

  it('has the solute of the table at its temperature, and a difference that grows with the undercooling', () => {
    const solute = { value: 286, standardUncertainty: 0 };
    const heat = { value: 239, standardUncertainty: 0 };
    const at = (undercooling: number) =>
      soluteOf(1040, solute, { value: undercooling, standardUncertainty: 0 }, heat);
    expect(at(10).atFace.value).toBeCloseTo(286, 9);
    // d ln c/dT = H/(R T2) = 0.01667 a K at 1313 K
    expect(at(1).bulk.value / 286 - 1).toBeCloseTo(0.0168, 4);
    expect(at(1).bulk.standardUncertainty).toBe(0);
    // one solubility feeds both: 40 % of it are 40 % of the difference, not of either
    const doubtful = soluteOf(
      1040,
      { value: 286, standardUncertainty: 114.4 },
      { value: 1, standardUncertainty: 0 },
      heat,
    );
    const difference = doubtful.bulk.value - doubtful.atFace.value;
    expect(doubtful.bulk.standardUncertainty! / difference).toBeCloseTo(0.4, 9);
  });

  it('is answered, with a layer of gas only where there is a carrier', () => {
    const run = (carrier: 'none' | 'Ar') =>
      growthLimit.run(growthLimit.request.parse(limitAsk({ ...setting, carrier }, {}).request));
    expect(run('none').limits.map(({ name }) => name)).toEqual(['liquid', 'arrival']);
    expect(run('Ar').limits.map(({ name }) => name)).toEqual(['liquid', 'arrival', 'gas layer']);
  });

  it('is not asked without a wanted rate', () => {
    expect(limitAsk({ ...setting, wanted: null }, {}).request).toBeNull();
    expect(limitAsk({ ...setting, wanted: null }, { wantedRateNmPerS: '7' }).request).toMatchObject({
      wantedRateNmPerS: 7,
    });
  });
});

describe('the request of oxygen uptake', () => {
  it('follows the path from the end of its hottest stretch, never with more than full chains', () => {
    const { request, hasCooling } = oxygenationAsk(FILM, THICK, { sharePercent: '90' });
    expect(hasCooling).toBe(true);
    const answer = growthOxygenation.run(growthOxygenation.request.parse(request));
    expect(answer.timeS[0]).toBe(1000);
    expect(Math.max(...Array.from(answer.surfaceOxygenAboveSix))).toBe(1);
    for (const { endOxygen } of answer.ways) expect(endOxygen!.value).toBeLessThanOrEqual(1);
    expect(answer.flags.map(({ code }) => code)).toContain('CHAINS_FULL');
  });

  it('is not asked of a path that ends hot', () => {
    const hot = { timeS: [0, 10], temperatureC: [25, 850], log10Po2Atm: [0, 0] };
    expect(oxygenationAsk(hot, THICK, {})).toMatchObject({ request: null, hasCooling: false });
  });
});

describe('the request of cracking', () => {
  it('begins at the hottest of the path and is answered for a row of the table', () => {
    const { request, specs } = crackingAsk(FILM, THICK, 'SrTiO3', {});
    expect(specs[0]!.usual!.value).toBe(850);
    const answer = growthCracking.run(growthCracking.request.parse(request));
    // (14.0 - 11.1) 1e-6/K times 825 K
    expect(answer.strain!.value).toBeCloseTo(2.9e-6 * 825, 9);
  });

  it('needs an expansion where no row is chosen', () => {
    expect(crackingAsk(FILM, THICK, '', {}).request).toBeNull();
    const { request } = crackingAsk(FILM, THICK, '', { substrateExpansionPerMK: '10 ± 0.5' });
    const answer = growthCracking.run(growthCracking.request.parse(request));
    expect(answer.strain!.value).toBeCloseTo(4e-6 * 825, 9);
  });
});

describe('quantities in a sentence', () => {
  it.each([
    [{ value: 183.7, standardUncertainty: 220 }, '180 ± 220 nm'],
    [{ value: 6074.3, standardUncertainty: 251 }, '6070 ± 250 nm'],
    [{ value: 24.71, standardUncertainty: 1.03 }, '24.7 ± 1.0 nm'],
    [{ value: 4.889e8, standardUncertainty: 4.8e7 }, '(4.89 ± 0.48)×10⁸ nm'],
    [{ value: 5, standardUncertainty: 0 }, '5 nm'],
  ])('%o is %s', (quantity, text) => {
    expect(quantityText(quantity, 'nm')).toBe(text);
  });

  it('are shares, times, pressures and odds as people say them', () => {
    expect(shareText({ value: 0.031, standardUncertainty: 0.01 })).toBe('3.1 ± 1.0 %');
    expect(shareText({ value: 1e-8, standardUncertainty: 1e-8 })).toBe('below 0.001 %');
    expect(shareText(null)).toBe('not established');
    expect(timeText({ value: 550, standardUncertainty: 66 })).toBe('9.2 ± 1.1 min');
    expect(timeText({ value: 3 * 31_557_600, standardUncertainty: 31_557_600 })).toBe('3.00 ± 1.00 years');
    expect(decadesText(-8.07)).toBe('8.5×10⁻⁹ atm');
    expect(drawnOddsText(0)).toBe('below 0.1 %');
    expect(drawnOddsText(0.5)).toBe('50 %');
  });
});

describe('a usual number as its field shows it', () => {
  it('is short, whatever its size, and can be typed like that', () => {
    const nuclei = COARSENING_SPECS.find(({ key }) => key === 'nucleiPerM3')!;
    expect(usualText(nuclei)).toBe('1e20 ± 5e19');
    expect(readInputs([nuclei], { nucleiPerM3: usualText(nuclei) }).typed.nucleiPerM3).toEqual(nuclei.usual);
  });
});

// What growth.coarsening is asked along a path, and what it may be given instead of the usual inputs. Pure.
import { MELT_TRANSPORT } from '../../science/tables/melt-transport.ts';
import type { FilmAlongPath } from './film-along-path.ts';
import type { LiquidTime } from './liquid-time.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

/** A usual input of the melt's table with where it comes from. */
export function meltInput(id: (typeof MELT_TRANSPORT.records)[number]['id'], scale = 1) {
  const { value, standardUncertainty, source, tag } = MELT_TRANSPORT.records.find((row) => row.id === id)!;
  return {
    usual: { value: value * scale, standardUncertainty: standardUncertainty * scale },
    from: `${source} ${tag}`,
  };
}

/** Temperature that diffusivity and solubility of the table are for, degC. */
export const MELT_REFERENCE_C = 1040;

export type ParticleKind = '211' | 'RE2O3';

/** RE2O3 of the C type, 32 RE a cell: 10.60 (Y) to 10.81 angstrom (Gd) [memory: cells of the C-type sesquioxides]. */
const RE2O3_M3_PER_MOL = { value: 2.3e-5, standardUncertainty: 5e-7 };

export const COARSENING_INPUTS: readonly InputSpec[] = [
  {
    key: 'nucleiPerM3',
    label: 'Nuclei, 1/m³',
    limits: { above: 0, max: 1e30 },
    usual: { value: 1e20, standardUncertainty: 5e19 },
    from: 'an order only; count particles in a micrograph [not established]',
  },
  {
    key: 'volumeFraction',
    label: 'Their share of the volume',
    limits: { above: 0, max: 1 },
    usual: { value: 0.1, standardUncertainty: 0.05 },
    from: 'an order only; the phases at equilibrium tell it better [not established]',
  },
  {
    key: 'interfacialEnergyJPerM2',
    label: 'Interfacial energy, J/m²',
    limits: { above: 0, max: 100 },
    ...meltInput('interfacial-energy'),
  },
  {
    key: 'diffusivityM2PerS',
    isRare: true,
    label: 'Diffusivity in the melt, m²/s',
    limits: { above: 0, max: 1e-6 },
    ...meltInput('diffusivity'),
  },
  {
    key: 'soluteMolPerM3',
    isRare: true,
    label: 'Rare earth dissolved, mol/m³',
    limits: { above: 0, max: 1e5 },
    ...meltInput('solute'),
  },
  {
    key: 'referenceC',
    isRare: true,
    label: 'Both at, °C',
    limits: { min: 500, max: 1400 },
    usual: { value: MELT_REFERENCE_C, standardUncertainty: null },
    from: 'temperature of the published solubility [memory: Krauns and others 1994]',
    isBare: true,
  },
  {
    key: 'dissolutionKJPerMol',
    isRare: true,
    ask: 'dissolutionJPerMol',
    label: 'Heat of dissolution, kJ/mol',
    limits: { min: 0, max: 1000 },
    usual: { value: meltInput('dissolution-123').usual.value / 1000, standardUncertainty: null },
    from: `that of 123: ${meltInput('dissolution-123').from}; taken for the particles too [not established]`,
    isBare: true,
  },
  {
    key: 'diffusionKJPerMol',
    isRare: true,
    ask: 'diffusionJPerMol',
    label: 'Activation energy of diffusion, kJ/mol',
    limits: { min: 0, max: 1000 },
    usual: null,
    from: 'none known: left empty, the diffusivity is not moved with temperature',
    isBare: true,
  },
];

export const WHAT_IF_INPUTS: readonly InputSpec[] = [
  {
    key: 'energyFactor',
    ask: 'whatIf[0].interfacialEnergyFactor',
    label: 'Interfacial energy times',
    limits: { above: 0, max: 10 },
    usual: { value: 0.5, standardUncertainty: null },
    from: 'a lower energy, as Pt or Ce additions are thought to give: a what-if, not measured',
    isBare: true,
  },
  {
    key: 'nucleiFactor',
    ask: 'whatIf[1].nucleiFactor',
    label: 'Nuclei times',
    limits: { above: 0, max: 1e9 },
    usual: { value: 10, standardUncertainty: null },
    from: 'more nuclei: a what-if, not measured',
    isBare: true,
  },
];

export const COARSENING_SPECS: readonly InputSpec[] = [...COARSENING_INPUTS, ...WHAT_IF_INPUTS];

/**
 * @param film   the path; null asks nothing
 * @param liquid odds of liquid along it, and how long it is there; null asks nothing
 * @returns the request, null while something cannot be read
 */
export function coarseningAsk(
  film: FilmAlongPath | null,
  liquid: Pick<LiquidTime, 'along' | 'liquidS'> | null,
  texts: InputTexts,
  kind: ParticleKind,
): { request: object | null; faults: Faults; isDiffusionMoved: boolean } {
  const { values, typed, faults } = readInputs(COARSENING_SPECS, texts);
  const isRead = film !== null && liquid !== null && Object.keys(faults).length === 0;
  const factor = (key: string): number => values[key]!.value;
  const isDiffusionMoved = typed.diffusionKJPerMol !== undefined;
  const optional = ['interfacialEnergyJPerM2', 'diffusivityM2PerS', 'soluteMolPerM3'];
  const request = isRead && {
    ...Object.fromEntries(optional.flatMap((key) => (typed[key] ? [[key, typed[key]]] : []))),
    ...(kind === 'RE2O3' ? { molarVolumeM3PerMol: RE2O3_M3_PER_MOL } : {}),
    nucleiPerM3: values.nucleiPerM3,
    volumeFraction: values.volumeFraction,
    path: { timeS: film.timeS, temperatureC: film.temperatureC },
    liquid: {
      ...liquid.along,
      liquidS: { value: liquid.liquidS.value, standardUncertainty: liquid.liquidS.standardUncertainty },
    },
    referenceC: values.referenceC!.value,
    dissolutionJPerMol: 1000 * values.dissolutionKJPerMol!.value,
    diffusionJPerMol: 1000 * (typed.diffusionKJPerMol?.value ?? 0),
    whatIf: [
      {
        name: `interfacial energy times ${factor('energyFactor')}`,
        interfacialEnergyFactor: factor('energyFactor'),
      },
      { name: `nuclei times ${factor('nucleiFactor')}`, nucleiFactor: factor('nucleiFactor') },
      {
        name: 'both',
        interfacialEnergyFactor: factor('energyFactor'),
        nucleiFactor: factor('nucleiFactor'),
      },
    ],
  };
  return { request: request || null, faults, isDiffusionMoved };
}

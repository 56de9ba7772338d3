// Reactions whose line may be laid over the map. Pure.

export interface ReactionChoice {
  readonly id: string;
  readonly label: string;
  /** RE stands for the rare earth */
  readonly phases: readonly string[];
}

export const REACTIONS: readonly ReactionChoice[] = [
  { id: 'peritectic', label: '123 = 211 + liquid', phases: ['REBa2Cu3O7', 'RE2BaCuO5', 'liquid'] },
  {
    id: 'eutectic',
    label: '123 + BaCuO2 + CuO = liquid',
    phases: ['REBa2Cu3O7', 'BaCuO2', 'CuO', 'liquid'],
  },
  {
    id: 'cuo side',
    label: '123 + CuO = 211 + liquid',
    phases: ['REBa2Cu3O7', 'CuO', 'RE2BaCuO5', 'liquid'],
  },
  {
    id: 'bacuo2 side',
    label: '123 + BaCuO2 = 211 + liquid',
    phases: ['REBa2Cu3O7', 'BaCuO2', 'RE2BaCuO5', 'liquid'],
  },
  { id: 'edge', label: 'BaCuO2 + CuO = liquid, without RE', phases: ['BaCuO2', 'CuO', 'liquid'] },
  {
    id: 'lower limit',
    label: '123 + Cu2O = 211 + BaCu2O2',
    phases: ['REBa2Cu3O7', 'Cu2O', 'RE2BaCuO5', 'BaCu2O2'],
  },
  { id: 'copper', label: 'CuO = Cu2O', phases: ['CuO', 'Cu2O'] },
];

/** The phases of a reaction for one rare earth. */
export const reactionPhases = ({ phases }: ReactionChoice, rareEarth: string): string[] =>
  phases.map((name) => name.replace('RE', rareEarth));

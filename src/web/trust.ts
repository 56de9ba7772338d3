// Remarks of an equilibrium answer, grouped by what they say about trusting it. Pure.

export interface Remark {
  readonly code: string;
  readonly message: string;
}

interface TrustGroup {
  readonly title: string;
  readonly codes: readonly string[];
}

const GROUPS: readonly TrustGroup[] = [
  { title: 'Which reading', codes: ['READING_EQUILIBRIUM', 'READING_MOVED'] },
  { title: 'Disputed', codes: ['LIQUID_DISPUTED', 'REACTION_METASTABLE', 'REACTION_NOT_IN_ALL'] },
  {
    title: 'Extrapolated',
    codes: ['TEMPERATURE_EXTRAPOLATED', 'OXYGEN_EXTRAPOLATED', 'MELT_EXTRAPOLATED', 'MELT_HOT'],
  },
  {
    title: 'Assumed for this rare earth',
    codes: ['RE_SHIFT', 'RE_PERITECTIC_BELOW_LINE', 'RE_BA_EXCHANGE_UNKNOWN', 'RE_FORMS_NO_123'],
  },
  { title: 'Not established', codes: ['ENERGY_NOT_ESTABLISHED'] },
];
const REST = 'Also';

/** Remarks by group, each sentence once; groups in the order in which they matter. */
export function groupedRemarks(remarks: readonly Remark[]): { title: string; messages: string[] }[] {
  const known = new Set(GROUPS.flatMap(({ codes }) => codes));
  const groups = [
    ...GROUPS.map(({ title, codes }) => ({
      title,
      messages: remarks.filter(({ code }) => codes.includes(code)).map(({ message }) => message),
    })),
    { title: REST, messages: remarks.filter(({ code }) => !known.has(code)).map(({ message }) => message) },
  ];
  return groups
    .map(({ title, messages }) => ({ title, messages: [...new Set(messages)] }))
    .filter(({ messages }) => messages.length > 0);
}

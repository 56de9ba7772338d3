// Refusals and doubts of the target's entries, turned from the fields of a request into the fields of the page. Pure.

const WORDS: readonly (readonly [RegExp, string])[] = [
  [/composition\.additions\[(\d+)\]\.formula/g, 'the formula of addition #'],
  [/composition\.additions\[(\d+)\]\.(?:molPercent|volPercent)/g, 'the share of addition #'],
  [/composition\.additions\[(\d+)\]/g, 'addition #'],
  [/composition\.additions/g, 'the additions'],
  [/composition\.(?:base|formula)/g, 'the formula'],
  [/composition\.([A-Z][a-z]?)\b/g, 'the amount of $1'],
  [/\badditions\[(\d+)\]/g, 'addition #'],
  [/composition\.cations\.([A-Z][a-z]?)/g, 'the amount of $1'],
  [/composition\.cations/g, 'the cation ratio'],
  [/precursors\[(\d+)\]\.formula/g, 'the formula of powder #'],
  [/precursors\[(\d+)\]\.purity/g, 'the purity of powder # (1 is 100 %)'],
  [/precursors\[(\d+)\]\.lossOnDrying/g, 'the loss on drying of powder # (1 is 100 %)'],
  [/precursors\[(\d+)\]\.assay\.cation/g, 'the metal of the assay of powder #'],
  [/precursors\[(\d+)\]\.assay\.standardUncertainty/g, 'the uncertainty of the assay of powder #'],
  [/precursors\[(\d+)\]\.assay(?:\.massFraction)?/g, 'the assay of powder #'],
  [/precursors\[(\d+)\]\.massMg/g, 'the mass of powder #, mg,'],
  [/precursors\[(\d+)\] \((\S+)\)(?=[\s,;:.]|$)/g, '$2'],
  [/precursors\[(\d+)\]/g, 'powder #'],
  [/\bno precursor\b/g, 'no powder'],
  [/\bprecursors\b/g, 'the powders'],
  [/pellet\.diameterMm/g, 'the diameter of the pellet, mm,'],
  [/pellet\.thicknessMm/g, 'the thickness of the pellet, mm,'],
  [/pellet\.relativeDensity/g, 'the relative density of the pellet (1 is 100 %)'],
  [/\btotalMassG\b/g, 'the mass of the fired target, g,'],
  [/\bbalanceStepMg\b/g, 'the step of the balance, mg,'],
  [/\boxygenPer123\b/g, 'the oxygen per REBa₂Cu₃'],
  [/pairs\[(\d+)\]\.filmRelativeU(?:\.([A-Z][a-z]?))?/g, 'the relative uncertainty of film #'],
  [/pairs\[(\d+)\] \(([^)]*)\)/g, 'the pair of $2'],
  [/pairs\[(\d+)\]\.(film|target)\.([A-Z][a-z]?)/g, 'the amount of $3 in the $2 of pair #'],
  [/factors\.([A-Z][a-z]?)/g, 'the transfer factor of $1'],
  [/losses\.([A-Z][a-z]?)/g, 'the loss of $1'],
  [/found\.u\.([A-Z][a-z]?)/g, 'the uncertainty of $1'],
  [/found\.cations/g, 'what was found'],
  [/\bdegC\b/g, '°C'],
  [/\bslipMg\b/g, 'the slip'],
  [/\bgrainRadiusUm\b/g, 'the grain radius, µm,'],
  [/segments\[(\d+)\]\.(?:toC|durationS|po2Atm)/g, 'step #'],
  [/segments\[(\d+)\]/g, 'step #'],
  [/\blossOnDrying\b/g, 'loss on drying'],
  [/\bratioU\b/g, 'the uncertainty of the ratio'],
  [/\bvolPercent\b/g, 'vol%'],
  [/\bmolPercent\b/g, 'mol%'],
  [/\bmassFraction\b/g, 'the assay'],
  [/\bpurity 1\b/g, 'purity 100 %'],
];

/** A sentence of the target's entries in the words of the page: rows counted from 1, no names of fields. */
export function inWords(sentence: string): string {
  let text = sentence;
  for (const [pattern, words] of WORDS)
    text = text.replace(pattern, (...groups) =>
      words
        .replace('#', String(Number(groups[1]) + 1))
        .replace(/\$(\d)/g, (_, group) => groups[Number(group)] ?? ''),
    );
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const PART_FIELDS: Readonly<Record<string, string>> = {
  purity: 'purityPercent',
  assay: 'assayPercent',
  lossOnDrying: 'lossPercent',
};
const PELLET_FIELDS: Readonly<Record<string, string>> = {
  diameterMm: 'diameterMm',
  thicknessMm: 'thicknessMm',
  relativeDensity: 'densityPercent',
};

/** The field that a refusal of `target.batch` is about: `ratio`, `0.formula`, or `precursors` for the table as a whole. */
export function fieldOfRefusal(sentence: string): string {
  const row = /^precursors\[(\d+)\](?:\.(purity|assay|lossOnDrying))?/.exec(sentence);
  if (row) return `${row[1]}.${PART_FIELDS[row[2] ?? ''] ?? 'formula'}`;
  const pellet = /^pellet\.(\w+)/.exec(sentence);
  if (pellet) return PELLET_FIELDS[pellet[1]!] ?? 'diameterMm';
  const field = /^(?:composition\.)?(totalMassG|balanceStepMg|oxygenPer123)\b/.exec(sentence);
  if (field) return field[1]!;
  const transfer = /^(factor|losse?)s\.([A-Z][a-z]?)/.exec(sentence);
  if (transfer) return `${transfer[1] === 'factor' ? 'factor' : 'loss'}.${transfer[2]}`;
  return /^composition\./.test(sentence) && !sentence.includes('no precursor') ? 'ratio' : 'precursors';
}

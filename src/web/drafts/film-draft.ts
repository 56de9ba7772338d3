// Films and their pieces as they are typed, and as they are kept. Pure.

import { ratioText } from '../../charts/trade-text.ts';
import type { Film, Piece } from '../../records/kinds.ts';
import { readRatio } from '../compositions.ts';
import { type Faults, FieldReader, numberText, statedText } from './typed-numbers.ts';

export interface FilmDraft {
  label: string;
  cations: string;
  substrate: string;
  substrateLot: string;
  position: string;
  thicknessNm: string;
  depositionRateNmPerS: string;
  conversionRateNmPerS: string;
  overallRateNmPerS: string;
  note: string;
}

export const EMPTY_FILM: FilmDraft = {
  label: '',
  cations: '',
  substrate: '',
  substrateLot: '',
  position: '',
  thicknessNm: '',
  depositionRateNmPerS: '',
  conversionRateNmPerS: '',
  overallRateNmPerS: '',
  note: '',
};

export function filmDraftOf(film: Film): FilmDraft {
  return {
    label: film.label,
    cations: film.cations ? ratioText(film.cations) : '',
    substrate: film.substrate,
    substrateLot: film.substrateLot,
    position: film.position,
    thicknessNm: statedText(film.thicknessNm),
    depositionRateNmPerS: statedText(film.depositionRateNmPerS),
    conversionRateNmPerS: statedText(film.conversionRateNmPerS),
    overallRateNmPerS: statedText(film.overallRateNmPerS),
    note: film.note,
  };
}

/** A film made like another: same substrate and place, but nothing that was measured on it. */
export function filmLike(film: Film): FilmDraft {
  return {
    ...EMPTY_FILM,
    substrate: film.substrate,
    substrateLot: film.substrateLot,
    position: film.position,
  };
}

/**
 * The film that a draft describes.
 *
 * @param known runId of its run, and the rare earth that names bare ratios
 */
export function readFilm(
  draft: FilmDraft,
  { runId, rareEarth }: { runId: string | null; rareEarth: string },
): { film: Film; faults: Faults } {
  const read = new FieldReader();
  const rate = { min: 0, max: 1e6, unit: 'nm/s' };
  let cations: Film['cations'] = null;
  if (draft.cations.trim() !== '') {
    const ratio = readRatio(draft.cations, rareEarth);
    if ('fault' in ratio) read.faults.cations = ratio.fault;
    else cations = ratio.cations;
  }
  const film: Film = {
    label: read.name('label', draft.label, "the lab's own name of the film, such as D07"),
    runId,
    cations,
    substrate: read.name('substrate', draft.substrate, 'what it was grown on, such as SrTiO3 (001)'),
    substrateLot: draft.substrateLot.trim(),
    position: draft.position.trim(),
    thicknessNm: read.stated('thicknessNm', draft.thicknessNm, { above: 0, max: 1e6, unit: 'nm' }),
    depositionRateNmPerS: read.stated('depositionRateNmPerS', draft.depositionRateNmPerS, rate),
    conversionRateNmPerS: read.stated('conversionRateNmPerS', draft.conversionRateNmPerS, rate),
    overallRateNmPerS: read.stated('overallRateNmPerS', draft.overallRateNmPerS, rate),
    note: draft.note,
  };
  return { film, faults: read.faults };
}

export interface PieceDraft {
  label: string;
  lengthMm: string;
  widthMm: string;
  note: string;
}

export const EMPTY_PIECE: PieceDraft = { label: '', lengthMm: '', widthMm: '', note: '' };

export function pieceDraftOf(piece: Piece): PieceDraft {
  return {
    label: piece.label,
    lengthMm: numberText(piece.lengthMm),
    widthMm: numberText(piece.widthMm),
    note: piece.note,
  };
}

export function readPiece(draft: PieceDraft, filmId: string): { piece: Piece; faults: Faults } {
  const read = new FieldReader();
  const piece: Piece = {
    label: read.name('label', draft.label, "the lab's own name of the piece, such as D07-a"),
    filmId,
    lengthMm: read.number('lengthMm', draft.lengthMm, { above: 0, max: 1e6, unit: 'mm' }),
    widthMm: read.number('widthMm', draft.widthMm, { above: 0, max: 1e4, unit: 'mm' }),
    note: draft.note,
  };
  return { piece, faults: read.faults };
}

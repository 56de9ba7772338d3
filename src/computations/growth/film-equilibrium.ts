// What the growth entries ask the equilibrium about a film: its composition, the ensemble and what the caller moves in it.

import type { z } from 'zod';
import { type FilmComposition, filmComposition } from '../../science/equilibrium/film-composition.ts';
import { diagramDoubts } from '../../science/equilibrium/limits.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import type { Member } from '../../science/equilibrium/phase-system.ts';
import type { FilmConditions } from '../../science/growth/path-liquid.ts';
import type { PathPlace } from '../../science/growth/path-places.ts';
import { ensembleConditions, type ensembleFields, isMoved, membersOf } from '../equilibrium/request.ts';
import type { Cations, Flag } from '../schema.ts';

type EnsembleRequest = z.infer<z.ZodObject<typeof ensembleFields>>;

export interface FilmEquilibrium {
  readonly film: FilmComposition;
  readonly members: readonly Member[];
  readonly conditions: FilmConditions;
}

/** @throws DomainError of the composition, and of names that the diagram does not know */
export function filmEquilibrium(cations: Cations, request: EnsembleRequest): FilmEquilibrium {
  const film = filmComposition(cations);
  return {
    film,
    members: membersOf(request),
    conditions: ensembleConditions(request, film.rareEarth, film.radiusBeyondYAngstrom),
  };
}

/** Doubts about the diagram where it was asked at its hottest and with the least oxygen, each once. */
export function diagramFlags(
  { film }: FilmEquilibrium,
  request: EnsembleRequest,
  places: readonly PathPlace[],
): Flag[] {
  const found = new Map<string, Flag>(film.doubts.map((doubt) => [doubt.code, doubt]));
  if (places.length === 0) return [...found.values()];
  const hottest = places.reduce((most, each) => (each.temperatureK > most.temperatureK ? each : most));
  const leanest = places.reduce((least, each) => (each.log10Po2Atm < least.log10Po2Atm ? each : least));
  for (const { temperatureK, log10Po2Atm } of [hottest, leanest])
    for (const doubt of diagramDoubts(
      film.rareEarth,
      temperatureK - ZERO_CELSIUS_K,
      10 ** log10Po2Atm,
      isMoved(request),
    ))
      if (!found.has(doubt.code)) found.set(doubt.code, doubt);
  return [...found.values()];
}

// The commands, in the order of the help.
import type { Command } from './command.ts';
import { COMPUTE } from './compute.ts';
import { FILMS } from './films.ts';
import { HISTORY, UNDO } from './history.ts';
import { IMPORT } from './import.ts';
import { JUDGE } from './judge.ts';
import { NEXT } from './next.ts';
import { SERIES } from './series.ts';

export const COMMANDS: readonly Command[] = [SERIES, FILMS, IMPORT, JUDGE, NEXT, HISTORY, UNDO, COMPUTE];

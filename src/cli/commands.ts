// The commands, in the order of the help.
import type { Command } from './command.ts';
import { COMPUTE } from './compute.ts';
import { DEMO } from './demo.ts';
import { FILMS } from './films.ts';
import { HISTORY, UNDO } from './history.ts';
import { IMPORT } from './import.ts';
import { JUDGE } from './judge.ts';
import { NEXT } from './next.ts';
import { REPORT } from './report.ts';
import { SERIES } from './series.ts';

export const COMMANDS: readonly Command[] = [
  DEMO,
  SERIES,
  FILMS,
  IMPORT,
  JUDGE,
  NEXT,
  REPORT,
  HISTORY,
  UNDO,
  COMPUTE,
];

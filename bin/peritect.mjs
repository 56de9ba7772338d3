#!/usr/bin/env node
// The command line of Peritect, from any folder: sets itself up, then runs src/cli/main.ts on the pinned runtime.
import { launch } from '../scripts/launch.mjs';

launch('src/cli/main.ts', process.argv.slice(2));

// Errors that only the server knows, and which HTTP status each code of every layer gets.
import { WordedError } from '../science/worded-error.ts';

/** Codes of the server, with their remedy. */
export const SERVER_CODES = {
  HOST_REFUSED: 'Open the address that `npm start` printed.',
  ORIGIN_REFUSED: 'Use the pages at the address that `npm start` printed.',
  CHANGE_HEADER_MISSING:
    'A script must send the header X-Peritect: 1 with every request that changes something.',
  ROUTE_UNKNOWN: 'GET /api/openapi.json lists the routes.',
  BODY_INVALID: 'Send what GET /api/openapi.json says for this route.',
  CLIENT_GONE: 'Send the request again.',
  BODY_TOO_LARGE: 'Send a smaller request; a file may have 20 MB.',
  JOB_UNKNOWN: 'Jobs are kept while the program runs: ask for the computation again.',
  TOO_MANY_JOBS: 'Wait until a running job ends, or cancel one.',
  IF_MATCH_MISSING: 'Send the revision you saw in the header If-Match.',
  KIND_COMPUTED: 'Let Peritect make it: read a file in, judge, or ask for proposals.',
  KIND_UNKNOWN: 'Take one of the record kinds that GET /api/openapi.json lists.',
  PORT_INVALID: 'Choose a port that this account may listen on: PORT=4711 npm start.',
  PORT_TAKEN: 'End the other program, or choose a port: PORT=4711 npm start.',
  ADDRESS_REFUSED: 'Leave HOST out: without log-in only this machine may be served.',
  FAULT: 'A fault in Peritect: please report it with the lines above.',
} as const satisfies Record<string, string>;

export type ServerCode = keyof typeof SERVER_CODES;

/** A request that the server refuses before any science or record is touched. */
export class ServerError extends WordedError<ServerCode> {
  constructor(code: ServerCode, sentence: string, remedy: string = SERVER_CODES[code]) {
    super(code, sentence, remedy);
  }
}

const STATUSES: Record<string, number> = {
  HOST_REFUSED: 403,
  ORIGIN_REFUSED: 403,
  CHANGE_HEADER_MISSING: 403,
  ROUTE_UNKNOWN: 404,
  BODY_INVALID: 400,
  BODY_TOO_LARGE: 413,
  JOB_UNKNOWN: 404,
  TOO_MANY_JOBS: 429,
  IF_MATCH_MISSING: 428,
  KIND_UNKNOWN: 404,
  KIND_COMPUTED: 403,
  FAULT: 500,
  COMPUTATION_UNKNOWN: 404,
  RECORD_UNKNOWN: 404,
  FILE_UNKNOWN: 404,
  CHANGE_UNKNOWN: 404,
  REVISION_IS_OLD: 412,
  FILE_TOO_LARGE: 413,
  STORE_BUSY: 503,
  STORE_FULL: 507,
};

/** Status of a code; 422 for what is well formed but refused by physics or by the records. */
export function statusOf(code: string): number {
  return STATUSES[code] ?? 422;
}

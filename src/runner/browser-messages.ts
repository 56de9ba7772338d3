// What the page and its worker say to each other.
import type { CarriedError } from './runner.ts';

export interface WorkerAsk {
  id: number;
  name: string;
  request: unknown;
}

export type WorkerAnswer =
  | { id: number; kind: 'progress'; done: number; total: number }
  | { id: number; kind: 'response'; response: unknown }
  | { id: number; kind: 'error'; error: CarriedError };

// The one interface behind which a computation runs: in the browser's worker, on worker threads, later in a queue.

export interface RunOptions {
  signal?: AbortSignal;
  /** parts done of parts in all; called for long entries only */
  onProgress?: (done: number, total: number) => void;
}

export interface Runner {
  /**
   * @param name    a catalogue entry's name
   * @param request as it stands on the wire
   * @returns the response as it stands on the wire
   * @throws DomainError for a request that physics or the schema refuses; AbortError when cancelled
   */
  run(name: string, request: unknown, options?: RunOptions): Promise<unknown>;
}

/** An error as it crosses a thread or the network. */
export interface CarriedError {
  code: string;
  sentence: string;
  remedy: string;
}

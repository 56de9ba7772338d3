// Runs tasks a few at a time, in order.

/** A function that runs the tasks given to it, at most `limit` at once; each answers with its task's result. */
export function limited(limit: number): <Result>(task: () => Promise<Result>) => Promise<Result> {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async (task) => {
    if (running >= limit) await new Promise<void>((resolve) => waiting.push(resolve));
    else running++;
    try {
      return await task();
    } finally {
      // the place is handed on, so that `running` never counts a place twice
      const next = waiting.shift();
      if (next) next();
      else running--;
    }
  };
}

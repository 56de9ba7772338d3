// What is typed on a page stays when one looks at another page or loads it again, until it is recorded.
import { type Dispatch, type SetStateAction, useEffect, useState } from 'react';

/**
 * A draft kept for this window's session.
 *
 * @param key   names the draft; change its version when the draft's shape changes
 * @param empty what an unwritten form holds
 */
export function useKeptDraft<Draft>(
  key: string,
  empty: () => Draft,
): [Draft, Dispatch<SetStateAction<Draft>>] {
  const [draft, setDraft] = useState<Draft>(() => {
    const text = sessionStorage.getItem(key);
    if (text === null) return empty();
    try {
      return JSON.parse(text) as Draft;
    } catch {
      return empty(); // a text that this program did not write
    }
  });
  useEffect(() => sessionStorage.setItem(key, JSON.stringify(draft)), [key, draft]);
  return [draft, setDraft];
}

// A draft that an address may fill: kept while one types, taken once from the address.
import { useNavigate } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { useKeptDraft } from './kept-draft.ts';

const NOTHING = '{}';

/**
 * @param key     names the kept draft, with its version
 * @param address what the address names; nothing where it is empty
 * @param filled  the draft that an address makes of the kept one
 */
export function useAddressedDraft<Draft, Address extends object>(
  key: string,
  empty: () => Draft,
  address: Address,
  filled: (kept: Draft, address: Address) => Draft,
): [Draft, (draft: Draft) => void] {
  const navigate = useNavigate();
  const [kept, setKept] = useKeptDraft(key, empty);
  const asked = JSON.stringify(address);
  const [taken, setTaken] = useState(NOTHING);
  const draft = useMemo(
    () => (asked === NOTHING || asked === taken ? kept : filled(kept, JSON.parse(asked) as Address)),
    [asked, taken, kept, filled],
  );
  const change = (next: Draft) => {
    setTaken(asked);
    setKept(next);
    // a second loading of the page must not take the address again over what was typed
    if (asked !== NOTHING) void navigate({ to: '.', search: {}, replace: true });
  };
  return [draft, change];
}

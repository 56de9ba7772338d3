import { List, Text } from '@mantine/core';
import { uncertainText } from '../../../charts/number-text.ts';
import type { SinterAnswer } from '../../drafts/sintering-draft.ts';
import { inWords } from '../../drafts/target-words.ts';
import { Disclosure } from '../disclosure.tsx';

/** The target's oxygen in a few words: `oxygen rich, 6.93 ± 0.02`. */
export function oxygenText({ oxygenState, oxygenPer123 }: SinterAnswer): string {
  return oxygenPer123
    ? `${oxygenState}, ${uncertainText(oxygenPer123.value, oxygenPer123.standardUncertainty)} O per REBa₂Cu₃`
    : oxygenState;
}

/** What was taken for what nobody stated: it opens on demand. */
const IS_TAKEN = /_ASSUMED$|_NOT_STATED$|_EXACT$/;

function Doubts({ flags }: { flags: SinterAnswer['flags'] }) {
  return flags.map(({ code, message }) => (
    <List.Item key={`${code} ${message}`}>{inWords(message)}</List.Item>
  ));
}

/** What the firing leaves of oxygen, and what that does on each route. */
export function OxygenState({ answer }: { answer: SinterAnswer }) {
  const { hottestC, consequences, flags } = answer;
  const taken = flags.filter(({ code }) => IS_TAKEN.test(code));
  return (
    <div role="status">
      <Text size="sm" fw={600} className="number">
        After this firing: {oxygenText(answer)}; hottest at {Number(hottestC.toFixed(0))} °C.
      </Text>
      <List size="sm">
        {consequences.map(({ route, statement, source }) => (
          <List.Item key={`${route} ${statement}`}>
            Films grown {route}: {statement}{' '}
            <Text span size="xs" c="dimmed">
              {source}
            </Text>
          </List.Item>
        ))}
        <Doubts flags={flags.filter(({ code }) => !IS_TAKEN.test(code))} />
      </List>
      {taken.length > 0 ? (
        <Disclosure title={`What was taken for it (${taken.length})`}>
          <List size="sm">
            <Doubts flags={taken} />
          </List>
        </Disclosure>
      ) : null}
    </div>
  );
}

import { Text } from '@mantine/core';
import { groupedRemarks, type Remark } from '../trust.ts';

/** How far an answer may be trusted: its remarks, grouped by what is extrapolated, disputed or assumed. */
export function TrustNotes({ remarks }: { remarks: readonly Remark[] }) {
  const groups = groupedRemarks(remarks);
  if (groups.length === 0) return null;
  return (
    <dl className="trust" aria-label="How far this may be trusted">
      {groups.map(({ title, messages }) => (
        <div key={title}>
          <dt>{title}</dt>
          {messages.map((message) => (
            <Text key={message} component="dd" size="xs" c="dimmed">
              {message}
            </Text>
          ))}
        </div>
      ))}
    </dl>
  );
}

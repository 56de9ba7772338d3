import { List, Loader, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import type { RecordKind } from '../../../records/kinds.ts';
import { api, dataOf } from '../../api.ts';
import { momentText } from '../../moments.ts';
import { Disclosure } from '../disclosure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';

interface RevisionsProps {
  record: { kind: string; id: string; revision: number };
  name: string;
}

function RevisionList({ record }: RevisionsProps) {
  const { data, error, isPending } = useQuery({
    queryKey: ['revisions', record.id, record.revision],
    queryFn: () =>
      dataOf(
        api.GET('/api/records/{kind}/{id}/revisions', {
          params: { path: { kind: record.kind as RecordKind, id: record.id } },
        }),
      ),
  });
  if (isPending) return <Loader size="xs" />;
  if (error) return <ProblemNotice error={error} />;
  return (
    <List size="sm">
      {data.map(({ revision, at, by, isDeleted, body }, i) => (
        <List.Item key={revision}>
          Revision {revision}, {momentText(at)}, by {by}
          {isDeleted
            ? ': removed'
            : i === 0
              ? ': first written'
              : `: ${changedFields(data[i - 1]!.body, body)}`}
        </List.Item>
      ))}
    </List>
  );
}

/** Names of the fields in which two bodies differ. */
function changedFields(before: unknown, after: unknown): string {
  const [one, other] = [before, after] as Record<string, unknown>[];
  const names = Object.keys({ ...one, ...other }).filter(
    (name) => JSON.stringify(one?.[name]) !== JSON.stringify(other?.[name]),
  );
  return names.length === 0 ? 'brought back' : `changed ${names.join(', ')}`;
}

/** Who wrote a record and when; opens on demand. */
export function Revisions(props: RevisionsProps) {
  const { record, name } = props;
  return (
    <Disclosure
      title={
        <Text span size="xs" c="dimmed">
          {name}: revision {record.revision}
        </Text>
      }
    >
      <RevisionList {...props} />
    </Disclosure>
  );
}

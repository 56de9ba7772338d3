import { Badge } from '@mantine/core';

/** Said on every page that shows an invented series. */
export function InventedNotice({ isInvented }: { isInvented: boolean }) {
  return isInvented ? (
    <Badge
      color="yellow"
      variant="light"
      c="var(--mantine-color-text)"
      radius="sm"
      tt="none"
      size="lg"
      mb="sm"
    >
      Invented data: a demonstration, no real film was measured
    </Badge>
  ) : null;
}

import { ActionIcon, Text, useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { Link, Outlet, useParams } from '@tanstack/react-router';

/** What stands around every page: the name, the pages of the series at hand, light or dark. */
export function Shell() {
  const { seriesId } = useParams({ strict: false });
  const { setColorScheme } = useMantineColorScheme();
  const scheme = useComputedColorScheme('light');
  const other = scheme === 'dark' ? 'light' : 'dark';
  return (
    <>
      <a className="skip-link" href="#main">
        To the content
      </a>
      <header className="masthead">
        <Link to="/" aria-label="Peritect: all series">
          <Text fw={700} size="lg" span>
            Peritect
          </Text>
        </Link>
        {seriesId ? (
          <nav aria-label="Series">
            <Link to="/series/$seriesId" params={{ seriesId }} activeOptions={{ exact: true }}>
              Series
            </Link>
            <Link to="/series/$seriesId/temperature-oxygen" params={{ seriesId }}>
              T and oxygen
            </Link>
            <Link to="/series/$seriesId/target" params={{ seriesId }}>
              Target
            </Link>
            <Link to="/series/$seriesId/path" params={{ seriesId }}>
              Path
            </Link>
            <Link to="/series/$seriesId/record" params={{ seriesId }}>
              Record
            </Link>
            <Link to="/series/$seriesId/files" params={{ seriesId }}>
              Files
            </Link>
            <Link to="/series/$seriesId/past-films" params={{ seriesId }}>
              Past films
            </Link>
            <Link to="/series/$seriesId/history" params={{ seriesId }}>
              History
            </Link>
          </nav>
        ) : null}
        <ActionIcon
          ml="auto"
          variant="subtle"
          color="gray"
          aria-label={`Show in ${other} colours`}
          title={`Show in ${other} colours`}
          onClick={() => setColorScheme(other)}
        >
          <span aria-hidden="true">{scheme === 'dark' ? '☀' : '☾'}</span>
        </ActionIcon>
      </header>
      <main id="main" className="page">
        <Outlet />
      </main>
    </>
  );
}

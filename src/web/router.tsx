// Addresses of the pages.
import { createRootRoute, createRoute, createRouter } from '@tanstack/react-router';
import { AllSeriesPage } from './pages/all-series-page.tsx';
import { FilesPage } from './pages/files-page.tsx';
import { FilmPage } from './pages/film-page.tsx';
import { HistoryPage } from './pages/history-page.tsx';
import { MeasurementPage } from './pages/measurement-page.tsx';
import { PastFilmsPage } from './pages/past-films-page.tsx';
import { PathPage } from './pages/path-page.tsx';
import { RecordPage } from './pages/record-page.tsx';
import { SeriesPage } from './pages/series-page.tsx';
import { TargetPage } from './pages/target-page.tsx';
import { TemperatureOxygenPage } from './pages/temperature-oxygen-page.tsx';
import { Shell } from './shell.tsx';

const root = createRootRoute({ component: Shell });
const page = <Path extends string>(path: Path, component: () => React.ReactNode) =>
  createRoute({ getParentRoute: () => root, path, component });

/** The texts of an address under these names; all else of it is left out. */
const texts =
  <Name extends string>(...names: readonly Name[]) =>
  (search: Record<string, unknown>) =>
    Object.fromEntries(
      names.flatMap((name) => (typeof search[name] === 'string' ? [[name, search[name]]] : [])),
    ) as { [name in Name]?: string };

/** `?ratio=1:2:3` carries a composition to the target page, `?losses=Ba:0.03~0.01` what heating takes from the film. */
const targetRoute = createRoute({
  getParentRoute: () => root,
  path: '/series/$seriesId/target',
  component: TargetPage,
  validateSearch: texts('ratio', 'losses'),
});
/** `?ratio=` carries a composition to the map of temperature and oxygen. */
const temperatureOxygenRoute = createRoute({
  getParentRoute: () => root,
  path: '/series/$seriesId/temperature-oxygen',
  component: TemperatureOxygenPage,
  validateSearch: texts('ratio'),
});
/** `?ratio=` carries a composition to the path page, `?planId=` a kept plan, `?treatmentId=` a path that was driven. */
const pathRoute = createRoute({
  getParentRoute: () => root,
  path: '/series/$seriesId/path',
  component: PathPage,
  validateSearch: texts('ratio', 'planId', 'treatmentId'),
});
/** `?pieceId=` names the piece that dropped files belong to. */
const filesRoute = createRoute({
  getParentRoute: () => root,
  path: '/series/$seriesId/files',
  component: FilesPage,
  validateSearch: texts('pieceId'),
});

const routeTree = root.addChildren([
  page('/', AllSeriesPage),
  page('/series/$seriesId', SeriesPage),
  temperatureOxygenRoute,
  targetRoute,
  pathRoute,
  page('/series/$seriesId/record', RecordPage),
  filesRoute,
  page('/series/$seriesId/films/$filmId', FilmPage),
  page('/series/$seriesId/measurements/$measurementId', MeasurementPage),
  page('/series/$seriesId/past-films', PastFilmsPage),
  page('/series/$seriesId/history', HistoryPage),
]);

export const router = createRouter({ routeTree, defaultPreload: false });

declare module '@tanstack/react-router' {
  interface Register {
    router: typeof router;
  }
}

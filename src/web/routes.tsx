import { lazy, Suspense } from 'react'
import { Route, Switch } from 'wouter'
import { NotFoundPage } from './pages/NotFoundPage.tsx'
import { TodayPage } from './pages/TodayPage.tsx'
import { Waiting } from './ui/Waiting.tsx'

// Each page comes with its own code on its first visit; only Today is in the first load.
const ProjectsPage = lazy(() =>
  import('./pages/ProjectsPage.tsx').then((m) => ({ default: m.ProjectsPage })),
)
const ProjectPage = lazy(() =>
  import('./pages/ProjectPage.tsx').then((m) => ({ default: m.ProjectPage })),
)
const PeoplePage = lazy(() =>
  import('./pages/PeoplePage.tsx').then((m) => ({ default: m.PeoplePage })),
)
const CalibrationPage = lazy(() =>
  import('./pages/CalibrationPage.tsx').then((m) => ({ default: m.CalibrationPage })),
)
const AboutChartsPage = lazy(() =>
  import('./pages/AboutChartsPage.tsx').then((m) => ({ default: m.AboutChartsPage })),
)
const SettingsPage = lazy(() =>
  import('./pages/SettingsPage.tsx').then((m) => ({ default: m.SettingsPage })),
)
const PasswordPage = lazy(() =>
  import('./pages/PasswordPage.tsx').then((m) => ({ default: m.PasswordPage })),
)
const CyclePage = lazy(() =>
  import('./cycle/CyclePage.tsx').then((m) => ({ default: m.CyclePage })),
)
const RampPage = lazy(() => import('./cycle/RampPage.tsx').then((m) => ({ default: m.RampPage })))
const EffectPage = lazy(() =>
  import('./effect/EffectPage.tsx').then((m) => ({ default: m.EffectPage })),
)
const ExperimentsPage = lazy(() =>
  import('./experiment/ExperimentsPage.tsx').then((m) => ({ default: m.ExperimentsPage })),
)
const ExperimentPage = lazy(() =>
  import('./experiment/ExperimentPage.tsx').then((m) => ({ default: m.ExperimentPage })),
)
const RunSheetPage = lazy(() =>
  import('./experiment/RunSheetPage.tsx').then((m) => ({ default: m.RunSheetPage })),
)
const MeasurePage = lazy(() =>
  import('./measure/MeasurePage.tsx').then((m) => ({ default: m.MeasurePage })),
)
const NewMeasurePage = lazy(() =>
  import('./measure/NewMeasurePage.tsx').then((m) => ({ default: m.NewMeasurePage })),
)
const WorkshopsPage = lazy(() =>
  import('./workshop/prepare/WorkshopsPage.tsx').then((m) => ({ default: m.WorkshopsPage })),
)
const PreparePage = lazy(() =>
  import('./workshop/prepare/PreparePage.tsx').then((m) => ({ default: m.PreparePage })),
)
const KitsPage = lazy(() =>
  import('./workshop/prepare/KitsPage.tsx').then((m) => ({ default: m.KitsPage })),
)
const KitPage = lazy(() =>
  import('./workshop/prepare/KitPage.tsx').then((m) => ({ default: m.KitPage })),
)
const EditKitPage = lazy(() =>
  import('./workshop/prepare/EditKitPage.tsx').then((m) => ({ default: m.EditKitPage })),
)
const ConsolePage = lazy(() =>
  import('./workshop/run/ConsolePage.tsx').then((m) => ({ default: m.ConsolePage })),
)
const WrapUpPage = lazy(() =>
  import('./workshop/wrap-up/WrapUpPage.tsx').then((m) => ({ default: m.WrapUpPage })),
)
const TableWrapUpPage = lazy(() =>
  import('./workshop/wrap-up/TableWrapUpPage.tsx').then((m) => ({ default: m.TableWrapUpPage })),
)
const WardPage = lazy(() =>
  import('./workshop/wrap-up/WardPage.tsx').then((m) => ({ default: m.WardPage })),
)
const KeyingPage = lazy(() =>
  import('./workshop/keying/KeyingPage.tsx').then((m) => ({ default: m.KeyingPage })),
)
const KitPrintPage = lazy(() =>
  import('./workshop/print/KitPrintPage.tsx').then((m) => ({ default: m.KitPrintPage })),
)
const RoomPrintPage = lazy(() =>
  import('./workshop/print/RoomPrintPage.tsx').then((m) => ({ default: m.RoomPrintPage })),
)

const wait = (
  <div className="page">
    <Waiting what="the page" lines={5} />
  </div>
)

/** Every address of the console and its page. A page of one record is made anew for another one. */
export function Pages() {
  return (
    <Suspense fallback={wait}>
      <Switch>
        <Route path="/">
          <TodayPage />
        </Route>
        <Route path="/projects">
          <ProjectsPage />
        </Route>
        <Route path="/projects/:id">{({ id }) => <ProjectPage key={id} id={id} />}</Route>
        <Route path="/projects/:id/new-measure">
          {({ id }) => <NewMeasurePage key={id} projectId={id} />}
        </Route>
        <Route path="/projects/:id/ramp/:rampId">
          {({ id, rampId }) => <RampPage key={rampId} projectId={id} rampId={rampId} />}
        </Route>
        <Route path="/projects/:id/effect">
          {({ id }) => <EffectPage key={id} projectId={id} />}
        </Route>
        <Route path="/projects/:id/experiments">
          {({ id }) => <ExperimentsPage key={id} projectId={id} />}
        </Route>
        <Route path="/experiments/:id">{({ id }) => <ExperimentPage key={id} id={id} />}</Route>
        <Route path="/experiments/:id/runs">{({ id }) => <RunSheetPage key={id} id={id} />}</Route>
        <Route path="/tests/:id">{({ id }) => <CyclePage key={id} id={id} />}</Route>
        <Route path="/measures/:id">{({ id }) => <MeasurePage key={id} id={id} />}</Route>
        <Route path="/workshops">
          <WorkshopsPage />
        </Route>
        <Route path="/workshops/new">
          <PreparePage />
        </Route>
        <Route path="/workshops/kits">
          <KitsPage />
        </Route>
        <Route path="/workshops/kits/new">
          <EditKitPage kitKey={null} as="copy" />
        </Route>
        <Route path="/workshops/kits/:key/copy">
          {({ key }) => <EditKitPage key={key} kitKey={key} as="copy" />}
        </Route>
        <Route path="/workshops/kits/:key/edit">
          {({ key }) => <EditKitPage key={key} kitKey={key} as="change" />}
        </Route>
        <Route path="/workshops/kits/:key">{({ key }) => <KitPage key={key} kitKey={key} />}</Route>
        <Route path="/workshops/:id/wrap-up">
          {({ id }) => <WrapUpPage key={id} roomId={id} />}
        </Route>
        <Route path="/workshops/:id/tables/:tableId">
          {({ id, tableId }) => <TableWrapUpPage key={tableId} roomId={id} tableId={tableId} />}
        </Route>
        <Route path="/workshops/:id/ward">{({ id }) => <WardPage key={id} roomId={id} />}</Route>
        <Route path="/workshops/kits/:key/print">
          {({ key }) => <KitPrintPage key={key} kitKey={key} />}
        </Route>
        <Route path="/workshops/:id/print">
          {({ id }) => <RoomPrintPage key={id} roomId={id} />}
        </Route>
        <Route path="/workshops/:id/keying">
          {({ id }) => <KeyingPage key={id} roomId={id} />}
        </Route>
        <Route path="/workshops/:id">{({ id }) => <ConsolePage key={id} roomId={id} />}</Route>
        <Route path="/predictions">
          <CalibrationPage />
        </Route>
        <Route path="/people">
          <PeoplePage />
        </Route>
        <Route path="/about-charts">
          <AboutChartsPage />
        </Route>
        <Route path="/settings">
          <SettingsPage />
        </Route>
        <Route path="/settings/password">
          <PasswordPage />
        </Route>
        <Route>
          <NotFoundPage />
        </Route>
      </Switch>
    </Suspense>
  )
}

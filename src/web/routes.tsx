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

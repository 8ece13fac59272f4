// The page: bar, three columns, footer.
import { type ComponentType, lazy, Suspense, useState } from 'react'
import { CompareButton } from '../compare/CompareButton.tsx'
import { OptimizeButton } from '../optimize/OptimizeButton.tsx'
import { PartsColumn } from '../parts/PartsColumn.tsx'
import { ReadingsButton } from '../readings/ReadingsButton.tsx'
import { SectionView } from '../section/SectionView.tsx'
import { SheetColumn } from '../sheet/SheetColumn.tsx'
import { useCompare } from '../store/compare.ts'
import { useDanger } from '../store/danger.ts'
import { useDisplay } from '../store/display.ts'
import { useHandbook } from '../store/handbook.ts'
import { useOptimize } from '../store/optimize.ts'
import { usePower } from '../store/power.ts'
import { useReadings } from '../store/readings.ts'
import { useView } from '../store/stores.ts'
import { useSweep } from '../store/sweep.ts'
import { useTolerances } from '../store/tolerances.ts'
import type { ViewName } from '../store/view.ts'
import { useWorkshop } from '../store/workshop.ts'
import { SweepButton } from '../sweep/SweepButton.tsx'
import { ToleranceButton } from '../tolerances/ToleranceButton.tsx'
import { AnswerLine } from './AnswerLine.tsx'
import { Bar } from './Bar.tsx'
import { ColumnSwitch } from './ColumnSwitch.tsx'
import { compareActs } from './compare.ts'
import { ErrorBoundary } from './ErrorBoundary.tsx'
import { FileErrorDialog } from './FileErrorDialog.tsx'
import { Footer } from './Footer.tsx'
import { optimizeRunner } from './optimize.ts'
import { PrintedPage } from './PrintedPage.tsx'
import { useShell } from './page.ts'
import { readingsRunner } from './readings.ts'
import { PrintedSevere, SavedNotice, StorageNotice } from './Severe.tsx'
import { sweepRunner } from './sweep.ts'
import { toleranceRunner } from './tolerances.ts'
// The styles come at once and in one order, whatever comes later.
import '../danger/danger.css'
import '../night/night.css'
import '../plan/plan.css'
import '../power/power.css'
import '../power/powerPrint.css'
import '../power/powerUp.css'
import '../solid/solid.css'
import '../start/start.css'
import '../sweep/sweep.css'
import '../sweep/sweepMap.css'
import '../ui/bar.css'
import '../ui/panel.css'
import '../ui/forced.css'
import './shell.css'
import './shellNarrow.css'
import './shellPopover.css'
import './shellDialogs.css'
import './shellSearch.css'
import './shellPhone.css'
import './shellPhoneParts.css'
import './shellPrint.css'

// What the first view doesn't show comes when it is opened; whoever only looks at light doesn't wait for it.
const PlanView = lazy(() => import('../plan/PlanView.tsx').then((m) => ({ default: m.PlanView })))
const SolidView = lazy(() => import('../solid/SolidView.tsx').then((m) => ({ default: m.SolidView })))
const NightView = lazy(() => import('../night/NightView.tsx').then((m) => ({ default: m.NightView })))
const SweepPanel = lazy(() => import('../sweep/SweepPanel.tsx').then((m) => ({ default: m.SweepPanel })))
const DangerPanel = lazy(() => import('../danger/DangerPanel.tsx').then((m) => ({ default: m.DangerPanel })))
const PowerPanel = lazy(() => import('../power/PowerPanel.tsx').then((m) => ({ default: m.PowerPanel })))
const StartDialog = lazy(() => import('../start/StartDialog.tsx').then((m) => ({ default: m.StartDialog })))
const BookDialog = lazy(() => import('./BookDialog.tsx').then((m) => ({ default: m.BookDialog })))
const CommandSearch = lazy(() => import('./CommandSearch.tsx').then((m) => ({ default: m.CommandSearch })))
const HelpSheet = lazy(() => import('./HelpSheet.tsx').then((m) => ({ default: m.HelpSheet })))
const WorkshopPanel = lazy(() => import('../workshop/WorkshopPanel.tsx'))
const TolerancesPanel = lazy(() =>
  import('../tolerances/TolerancesPanel.tsx').then((m) => ({ default: m.TolerancesPanel })),
)
const ComparePanel = lazy(() => import('../compare/ComparePanel.tsx').then((m) => ({ default: m.ComparePanel })))
const NightBeside = lazy(() => import('../night/NightBeside.tsx').then((m) => ({ default: m.NightBeside })))
const OptimizePanel = lazy(() => import('../optimize/OptimizePanel.tsx'))
const ReadingsPanel = lazy(() => import('../readings/ReadingsPanel.tsx'))
const HandbookPanel = lazy(() => import('../handbook/HandbookPanel.tsx'))

const VIEW_COMPONENTS: Record<ViewName, ComponentType> = {
  plan: PlanView,
  section: SectionView,
  solid: SolidView,
  night: NightView,
}

export function Shell() {
  const shown = useView((s) => s.view)
  const View = VIEW_COMPONENTS[shown]
  const sweepOpen = useSweep((s) => s.open)
  const optimizeOpen = useOptimize((s) => s.open)
  const tolerancesOpen = useTolerances((s) => s.open)
  const compareOpen = useCompare((s) => s.open)
  const dangerOpen = useDanger((s) => s.open)
  const powerOpen = usePower((s) => s.open)
  const workshopOpen = useWorkshop((s) => s.open)
  const handbookOpen = useHandbook((s) => s.open)
  const readingsOpen = useReadings((s) => s.open)
  const column = useDisplay((s) => s.column)
  const printing = useShell((s) => s.printing)
  const withSheet = useShell((s) => s.printed.sheet)
  return (
    <div className="shell" data-column={column} data-printing={printing ? (withSheet ? 'sheet' : 'alone') : undefined}>
      <PrintedPage />
      <Bar />
      <div className="shell-top">
        <AnswerLine />
        <ColumnSwitch />
      </div>
      <aside className="shell-parts" aria-label="Parts of the lamp">
        <ErrorBoundary what="The parts column">
          <PartsColumn />
        </ErrorBoundary>
        <div className="shell-trials">
          <SweepButton />
          <OptimizeButton />
          <ToleranceButton />
          <CompareButton />
          <ReadingsButton />
        </div>
      </aside>
      <main className="shell-view">
        <section
          id="view-panel"
          role="tabpanel"
          aria-labelledby={`tab-${shown}`}
          className="shell-panel"
          inert={
            sweepOpen ||
            compareOpen ||
            optimizeOpen ||
            tolerancesOpen ||
            dangerOpen ||
            powerOpen ||
            workshopOpen ||
            handbookOpen ||
            readingsOpen
          }
        >
          <ErrorBoundary key={shown} what="This view">
            <Suspense fallback={null}>
              <View />
            </Suspense>
          </ErrorBoundary>
        </section>
        {sweepOpen && (
          <ErrorBoundary what="The range">
            <Suspense fallback={null}>
              <SweepPanel actions={sweepRunner} />
            </Suspense>
          </ErrorBoundary>
        )}
        {optimizeOpen && (
          <ErrorBoundary what="The search">
            <Suspense fallback={null}>
              <OptimizePanel actions={optimizeRunner} />
            </Suspense>
          </ErrorBoundary>
        )}
        {tolerancesOpen && (
          <ErrorBoundary what="The tolerances">
            <Suspense fallback={null}>
              <TolerancesPanel actions={toleranceRunner} />
            </Suspense>
          </ErrorBoundary>
        )}
        {compareOpen && (
          <ErrorBoundary what="The comparison">
            <Suspense fallback={null}>
              <ComparePanel actions={compareActs} Night={NightBeside} />
            </Suspense>
          </ErrorBoundary>
        )}
        {dangerOpen && (
          <ErrorBoundary what="The dangers">
            <Suspense fallback={null}>
              <DangerPanel />
            </Suspense>
          </ErrorBoundary>
        )}
        {powerOpen && (
          <ErrorBoundary what="Heat and power">
            <Suspense fallback={null}>
              <PowerPanel />
            </Suspense>
          </ErrorBoundary>
        )}
        {workshopOpen && (
          <ErrorBoundary what="Drawings and files">
            <Suspense fallback={null}>
              <WorkshopPanel />
            </Suspense>
          </ErrorBoundary>
        )}
        {readingsOpen && (
          <ErrorBoundary what="The readings">
            <Suspense fallback={null}>
              <ReadingsPanel actions={readingsRunner} />
            </Suspense>
          </ErrorBoundary>
        )}
        {handbookOpen && (
          <ErrorBoundary what="The handbook">
            <Suspense fallback={null}>
              <HandbookPanel />
            </Suspense>
          </ErrorBoundary>
        )}
      </main>
      <div className="shell-sheet">
        <PrintedSevere />
        <ErrorBoundary what="The beam sheet">
          <SheetColumn />
        </ErrorBoundary>
      </div>
      <Footer />
      <Dialogs />
      <FileErrorDialog />
      <SavedNotice />
      <StorageNotice />
      <DropCover />
    </div>
  )
}

/** Each comes with its first opening and stays: it closes in its own way. */
function Dialogs() {
  const help = useOnceOpen(useShell((s) => s.help))
  const search = useOnceOpen(useShell((s) => s.search))
  const book = useOnceOpen(useShell((s) => s.book))
  const start = useOnceOpen(useShell((s) => s.start) !== null)
  return (
    <Suspense fallback={null}>
      {help && <HelpSheet />}
      {search && <CommandSearch />}
      {book && <BookDialog />}
      {start && <StartDialog />}
    </Suspense>
  )
}

function useOnceOpen(open: boolean): boolean {
  const [wasOpen, setWasOpen] = useState(open)
  if (open && !wasOpen) setWasOpen(true)
  return wasOpen || open
}

function DropCover() {
  const dropping = useShell((s) => s.dropping)
  const beside = useCompare((s) => s.open)
  return dropping ? (
    <div className="shell-drop" role="status">
      {beside
        ? 'Drop to set the lamp beside the open one.'
        : 'Drop to open the lamp file. The lamp on the sheet stays stored in this browser.'}
    </div>
  ) : null
}

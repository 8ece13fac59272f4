// The page: bar, three columns, footer.
import { type ComponentType, lazy, Suspense } from 'react'
import { CompareButton } from '../compare/CompareButton.tsx'
import { ComparePanel } from '../compare/ComparePanel.tsx'
import { DangerPanel } from '../danger/DangerPanel.tsx'
import { NightView } from '../night/NightView.tsx'
import { PartsColumn } from '../parts/PartsColumn.tsx'
import { PlanView } from '../plan/PlanView.tsx'
import { PowerPanel } from '../power/PowerPanel.tsx'
import { SectionView } from '../section/SectionView.tsx'
import { SheetColumn } from '../sheet/SheetColumn.tsx'
import { SolidView } from '../solid/SolidView.tsx'
import { StartDialog } from '../start/StartDialog.tsx'
import { useCompare } from '../store/compare.ts'
import { useDanger } from '../store/danger.ts'
import { useDisplay } from '../store/display.ts'
import { useHandbook } from '../store/handbook.ts'
import { usePower } from '../store/power.ts'
import { useView } from '../store/stores.ts'
import { useSweep } from '../store/sweep.ts'
import type { ViewName } from '../store/view.ts'
import { useWorkshop } from '../store/workshop.ts'
import { SweepButton } from '../sweep/SweepButton.tsx'
import { SweepPanel } from '../sweep/SweepPanel.tsx'
import { AnswerLine } from './AnswerLine.tsx'
import { BookDialog } from './BookDialog.tsx'
import { ColumnSwitch } from './ColumnSwitch.tsx'
import { CommandSearch } from './CommandSearch.tsx'
import { compareActs } from './compare.ts'
import { DisplayMenu } from './DisplayMenu.tsx'
import { ErrorBoundary } from './ErrorBoundary.tsx'
import { FileButtons } from './FileButtons.tsx'
import { FileErrorDialog } from './FileErrorDialog.tsx'
import { Footer } from './Footer.tsx'
import { HelpSheet } from './HelpSheet.tsx'
import { LampName, StepButtons } from './LampBar.tsx'
import { LampsMenu, NewLampButton } from './LampsMenu.tsx'
import { PrintedPage } from './PrintedPage.tsx'
import { useShell } from './page.ts'
import { PrintedSevere, SavedNotice, StorageNotice } from './Severe.tsx'
import { StatesMenu } from './StatesMenu.tsx'
import { sweepRunner } from './sweep.ts'
import { TraceState } from './TraceState.tsx'
import { ViewTabs } from './ViewTabs.tsx'
import '../ui/forced.css'
import './shell.css'
import './shellNarrow.css'
import './shellPopover.css'
import './shellDialogs.css'
import './shellSearch.css'
import './shellPrint.css'

// Drawings, solids and lists are a tenth of the program; whoever only looks at light doesn't wait for them.
const WorkshopPanel = lazy(() => import('../workshop/WorkshopPanel.tsx'))
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
  const compareOpen = useCompare((s) => s.open)
  const dangerOpen = useDanger((s) => s.open)
  const powerOpen = usePower((s) => s.open)
  const workshopOpen = useWorkshop((s) => s.open)
  const handbookOpen = useHandbook((s) => s.open)
  const column = useDisplay((s) => s.column)
  const printing = useShell((s) => s.printing)
  const withSheet = useShell((s) => s.printed.sheet)
  return (
    <div className="shell" data-column={column} data-printing={printing ? (withSheet ? 'sheet' : 'alone') : undefined}>
      <PrintedPage />
      <header className="shell-bar">
        <span className="shell-mark" aria-hidden="true" />
        <h1 className="ui-hidden">Lampwright</h1>
        <LampName />
        <NewLampButton way="own" words="New lamp" />
        <LampsMenu />
        <StatesMenu />
        <StepButtons />
        <ViewTabs />
        <TraceState />
        <FileButtons />
        <DisplayMenu />
      </header>
      <div className="shell-top">
        <AnswerLine />
        <ColumnSwitch />
      </div>
      <aside className="shell-parts" aria-label="Parts of the lamp">
        <ErrorBoundary what="The parts column">
          <PartsColumn />
        </ErrorBoundary>
        <SweepButton />
        <CompareButton />
      </aside>
      <main className="shell-view">
        <section
          id="view-panel"
          role="tabpanel"
          aria-labelledby={`tab-${shown}`}
          className="shell-panel"
          inert={sweepOpen || compareOpen || dangerOpen || powerOpen || workshopOpen || handbookOpen}
        >
          <ErrorBoundary key={shown} what="This view">
            <View />
          </ErrorBoundary>
        </section>
        {sweepOpen && (
          <ErrorBoundary what="The range">
            <SweepPanel actions={sweepRunner} />
          </ErrorBoundary>
        )}
        {compareOpen && (
          <ErrorBoundary what="The comparison">
            <ComparePanel actions={compareActs} />
          </ErrorBoundary>
        )}
        {dangerOpen && (
          <ErrorBoundary what="The dangers">
            <DangerPanel />
          </ErrorBoundary>
        )}
        {powerOpen && (
          <ErrorBoundary what="Heat and power">
            <PowerPanel />
          </ErrorBoundary>
        )}
        {workshopOpen && (
          <ErrorBoundary what="Drawings and files">
            <Suspense fallback={null}>
              <WorkshopPanel />
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
      <HelpSheet />
      <CommandSearch />
      <BookDialog />
      <StartDialog />
      <FileErrorDialog />
      <SavedNotice />
      <StorageNotice />
      <DropCover />
    </div>
  )
}

function DropCover() {
  const dropping = useShell((s) => s.dropping)
  return dropping ? (
    <div className="shell-drop" role="status">
      Let go to open the lamp file. The lamp on the sheet stays stored in this browser.
    </div>
  ) : null
}

// The page: bar, three columns, foot.
import type { ComponentType } from 'react'
import { DangerPanel } from '../danger/DangerPanel.tsx'
import { NightView } from '../night/NightView.tsx'
import { PartsColumn } from '../parts/PartsColumn.tsx'
import { PlanView } from '../plan/PlanView.tsx'
import { PowerPanel } from '../power/PowerPanel.tsx'
import { SectionView } from '../section/SectionView.tsx'
import { SheetColumn } from '../sheet/SheetColumn.tsx'
import { SolidView } from '../solid/SolidView.tsx'
import { useDanger } from '../store/danger.ts'
import { usePower } from '../store/power.ts'
import { useView } from '../store/stores.ts'
import { useSweep } from '../store/sweep.ts'
import type { ViewName } from '../store/view.ts'
import { SweepButton } from '../sweep/SweepButton.tsx'
import { SweepPanel } from '../sweep/SweepPanel.tsx'
import { dangerReading } from './danger.ts'
import { FileButtons } from './FileButtons.tsx'
import { Foot } from './Foot.tsx'
import { Guard } from './Guard.tsx'
import { HelpSheet } from './HelpSheet.tsx'
import { LampName, StepButtons } from './LampBar.tsx'
import { LampsMenu } from './LampsMenu.tsx'
import { useShell } from './page.ts'
import { Refused } from './Refused.tsx'
import { PrintedSevere, SavedNotice } from './Severe.tsx'
import { StatesMenu } from './StatesMenu.tsx'
import { sweeping } from './sweep.ts'
import { TraceState } from './TraceState.tsx'
import { ViewTabs } from './ViewTabs.tsx'
import '../ui/forced.css'
import './shell.css'
import './shellPopover.css'
import './shellDialogs.css'
import './shellPrint.css'

const SHOWN: Record<ViewName, ComponentType> = {
  plan: PlanView,
  section: SectionView,
  solid: SolidView,
  night: NightView,
}

export function Shell() {
  const shown = useView((s) => s.view)
  const View = SHOWN[shown]
  const swept = useSweep((s) => s.open)
  const endangered = useDanger((s) => s.open)
  const powered = usePower((s) => s.open)
  return (
    <div className="shell">
      <header className="shell-bar">
        <span className="shell-mark" aria-hidden="true" />
        <h1 className="ui-hidden">Lampwright</h1>
        <LampName />
        <LampsMenu />
        <StatesMenu />
        <StepButtons />
        <ViewTabs />
        <TraceState />
        <FileButtons />
      </header>
      <aside className="shell-parts" aria-label="Parts of the lamp">
        <Guard what="The parts column">
          <PartsColumn />
        </Guard>
        <SweepButton />
      </aside>
      <main className="shell-view">
        <section
          id="view-panel"
          role="tabpanel"
          aria-labelledby={`tab-${shown}`}
          className="shell-panel"
          inert={swept || endangered || powered}
        >
          <Guard key={shown} what="This view">
            <View />
          </Guard>
        </section>
        {swept && (
          <Guard what="The range">
            <SweepPanel actions={sweeping} />
          </Guard>
        )}
        {endangered && (
          <Guard what="The dangers">
            <DangerPanel again={dangerReading.again} />
          </Guard>
        )}
        {powered && (
          <Guard what="Heat and power">
            <PowerPanel />
          </Guard>
        )}
      </main>
      <div className="shell-sheet">
        <PrintedSevere />
        <Guard what="The beam sheet">
          <SheetColumn />
        </Guard>
      </div>
      <Foot />
      <HelpSheet />
      <Refused />
      <SavedNotice />
      <DropCover />
    </div>
  )
}

function DropCover() {
  const held = useShell((s) => s.dropping)
  return held ? (
    <div className="shell-drop" role="status">
      Let go to open the lamp file. The lamp on the sheet stays stored in this browser.
    </div>
  ) : null
}

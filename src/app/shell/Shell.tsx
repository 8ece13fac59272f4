// The page: bar, three columns, foot.
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import { NightView } from '../night/NightView.tsx'
import { PartsColumn } from '../parts/PartsColumn.tsx'
import { PlanView } from '../plan/PlanView.tsx'
import { SectionView } from '../section/SectionView.tsx'
import { SheetColumn } from '../sheet/SheetColumn.tsx'
import { SolidView } from '../solid/SolidView.tsx'
import { useView, view } from '../store/stores.ts'
import type { ViewName } from '../store/view.ts'
import { FileButtons } from './FileButtons.tsx'
import { Foot } from './Foot.tsx'
import { HelpSheet } from './HelpSheet.tsx'
import { LampName, StepButtons } from './LampBar.tsx'
import { LampsMenu } from './LampsMenu.tsx'
import { useShell } from './page.ts'
import { Refused } from './Refused.tsx'
import { StatesMenu } from './StatesMenu.tsx'
import { TraceState } from './TraceState.tsx'
import './shell.css'

const VIEWS: readonly { key: ViewName; name: string }[] = [
  { key: 'plan', name: 'Plan' },
  { key: 'section', name: 'Section' },
  { key: 'solid', name: 'Solid' },
  { key: 'night', name: 'Night' },
]

export function Shell() {
  const shown = useView((s) => s.view)
  return (
    <div className="shell">
      {/* Tabs draws its children twice, once out of sight to count the tabs: only what belongs to the tabs stands in it. */}
      <Tabs
        className="shell-tabbed"
        selectedKey={shown}
        onSelectionChange={(key) => view.setState({ view: key as ViewName })}
        keyboardActivation="automatic"
      >
        <header className="shell-bar">
          <span className="shell-mark" aria-hidden="true" />
          <h1 className="ui-hidden">Lampwright</h1>
          <LampName />
          <LampsMenu />
          <StatesMenu />
          <StepButtons />
          <TabList className="shell-tabs" aria-label="Ways of looking at the lamp">
            {VIEWS.map((v, i) => (
              <Tab key={v.key} id={v.key} className="shell-tab">
                {v.name}
                <span className="shell-tab-key" aria-hidden="true">
                  {i + 1}
                </span>
              </Tab>
            ))}
          </TabList>
          <TraceState />
          <FileButtons />
        </header>
        <main className="shell-view">
          <TabPanel id="plan" className="shell-panel">
            <PlanView />
          </TabPanel>
          <TabPanel id="section" className="shell-panel">
            <SectionView />
          </TabPanel>
          <TabPanel id="solid" className="shell-panel">
            <SolidView />
          </TabPanel>
          <TabPanel id="night" className="shell-panel">
            <NightView />
          </TabPanel>
        </main>
      </Tabs>
      <aside className="shell-parts" aria-label="Parts of the lamp">
        <PartsColumn />
      </aside>
      <div className="shell-sheet">
        <SheetColumn />
      </div>
      <Foot />
      <HelpSheet />
      <Refused />
      <DropCover />
    </div>
  )
}

function DropCover() {
  const held = useShell((s) => s.dropping)
  return held ? (
    <div className="shell-drop" role="status">
      Let go to open the lamp file. The lamp on the sheet stays in the drawer.
    </div>
  ) : null
}

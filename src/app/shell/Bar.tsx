// The bar on top. On a phone it is one row, the views' tabs a second, and what is pressed seldom is folded behind Menu (shellPhone.css).
import { useState } from 'react'
import { Button } from 'react-aria-components'
import { DisplayMenu } from './DisplayMenu.tsx'
import { FileButtons } from './FileButtons.tsx'
import { LampName, StepButtons } from './LampBar.tsx'
import { LampsMenu, NewLampButton } from './LampsMenu.tsx'
import { StatesMenu } from './StatesMenu.tsx'
import { TraceState } from './TraceState.tsx'
import { ViewTabs } from './ViewTabs.tsx'

export function Bar() {
  const [unfolded, setUnfolded] = useState(false)
  return (
    <header className="shell-bar" data-unfolded={unfolded || undefined}>
      <span className="shell-mark" aria-hidden="true" />
      <h1 className="ui-hidden">Lampwright</h1>
      <LampName />
      <span className="shell-menu">
        <Button className="ui-button ui-button-plain" aria-expanded={unfolded} onPress={() => setUnfolded(!unfolded)}>
          Menu
        </Button>
      </span>
      <div className="shell-folded">
        <NewLampButton way="own" words="New lamp" />
        <LampsMenu />
        <StatesMenu />
      </div>
      <StepButtons />
      <ViewTabs />
      <TraceState />
      <div className="shell-folded">
        <FileButtons />
        <DisplayMenu />
      </div>
    </header>
  )
}

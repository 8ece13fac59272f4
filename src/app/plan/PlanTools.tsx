// The tool strip: what a click selects, placing boards, and arranging the selection.
import { Button as AriaButton, Tooltip, TooltipTrigger } from 'react-aria-components'
import { chordText } from '../actions/keys.ts'
import { requestPart } from '../store/openParts.ts'
import { plan, usePlan } from '../store/plan.ts'
import { useDesign, useView } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { findPlanAction } from './actions.ts'
import { runPlanAction } from './gestures/pointer.ts'
import { type GlyphName, PlanGlyph } from './PlanGlyph.tsx'
import { PlanSnaps } from './PlanSnaps.tsx'

const apple = /Mac|iPhone|iPad/.test(navigator.platform)

export function PlanTools() {
  return (
    <div className="plan-tools" role="toolbar" aria-label="Tools of the plan">
      <PickMode />
      <PlaceTool />
      <Button hint="In the parts column: pattern, how many, what stays" onPress={() => requestPart('fill', true)}>
        Fill…
      </Button>
      <PlanSnaps />
      <Overlay action="returned">Returned light</Overlay>
      <Overlay action="warmth">Temperature</Overlay>
      <span className="plan-signs">
        <ToolButton action="align-centreX" of="column" least={2} />
        <ToolButton action="align-centreY" of="row" least={2} />
        <ToolButton action="space-x" of="gapsAcross" least={3} />
        <ToolButton action="space-y" of="gapsUp" least={3} />
        <ToolButton action="line" of="line" least={3} />
        <ToolButton action="mirror-x" of="mirrorX" least={1} />
        <ToolButton action="mirror-y" of="mirrorY" least={1} />
        <ToolButton action="centre" of="centre" least={1} />
        <ToolButton action="ring" of="ring" least={2} />
        <ToolButton action="arc" of="arc" least={3} />
        <ToolButton action="turn-15" of="turnLeft" least={1} />
        <ToolButton action="turn--15" of="turnRight" least={1} />
        <ToolButton action="outline" of="outline" least={0} />
        <ToolButton action="copy" of="copy" least={1} />
        <ToolButton action="delete" of="away" least={1} />
        <span className="plan-rule" aria-hidden="true" />
        <ToolButton action="farther" of="farther" least={0} />
        <ToolButton action="closer" of="closer" least={0} />
        <ToolButton action="fit" of="whole" least={0} />
      </span>
    </div>
  )
}

function PickMode() {
  const pickMode = usePlan((s) => s.pickMode)
  return (
    <Choice
      label="Pick"
      value={pickMode}
      segments
      description="What a click on the drawing takes (key e)"
      options={[
        { key: 'boards', name: 'Boards' },
        { key: 'emitters', name: 'Emitters' },
      ]}
      onChoose={() => runPlanAction('emitters')}
    />
  )
}

function PlaceTool() {
  const placing = usePlan((s) => s.tool === 'place')
  const typeId = usePlan((s) => s.placeType)
  const types = useDesign((s) => s.lamp.boardTypes)
  const now = types.find((t) => t.id === typeId) ?? types[0]!
  return (
    <>
      <ToggleTool action="place" pressed={placing}>
        Place
      </ToggleTool>
      {placing && types.length > 1 && (
        <Choice
          label="Board"
          value={now.id}
          options={types.map((t) => ({ key: t.id, name: t.name }))}
          asTyped
          onChoose={(placeType) => plan.setState({ placeType })}
        />
      )}
    </>
  )
}

function Overlay({ action, children }: { action: 'returned' | 'warmth'; children: string }) {
  const on = usePlan((s) => s.overlay === action)
  return (
    <ToggleTool action={action} pressed={on}>
      {children}
    </ToggleTool>
  )
}

function ToggleTool({ action, pressed, children }: { action: string; pressed: boolean; children: string }) {
  return (
    <TooltipTrigger delay={500}>
      <AriaButton
        className="ui-button plan-toggle"
        aria-pressed={pressed}
        data-on={pressed || undefined}
        onPress={() => runPlanAction(action)}
      >
        {children}
      </AriaButton>
      <ActionTooltip action={action} />
    </TooltipTrigger>
  )
}

function ToolButton({ action, of, least }: { action: string; of: GlyphName; least: number }) {
  const corner = usePlan((s) => action === 'delete' && s.corner !== null)
  const able = useView((s) => s.boards.length >= least) || corner
  return (
    <TooltipTrigger delay={300}>
      <AriaButton
        className="ui-button plan-sign"
        aria-label={findPlanAction(action).label}
        isDisabled={!able}
        onPress={() => runPlanAction(action)}
      >
        <PlanGlyph of={of} />
      </AriaButton>
      <ActionTooltip action={action} />
    </TooltipTrigger>
  )
}

function ActionTooltip({ action }: { action: string }) {
  const { label, keys } = findPlanAction(action)
  const key = keys[0]
  return (
    <Tooltip className="ui-tooltip" offset={4}>
      {label}
      {key && <span className="plan-key">{chordText(key, apple)}</span>}
    </Tooltip>
  )
}

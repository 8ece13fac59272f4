// The tool strip: what a pick takes, putting boards down, and arranging what is chosen.
import { Button, Tooltip, TooltipTrigger } from 'react-aria-components'
import { chordText } from '../actions/keys.ts'
import { askForPart } from '../store/openParts.ts'
import { plan, usePlan } from '../store/plan.ts'
import { useDesign, useView } from '../store/stores.ts'
import { Push } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { planAct } from './actions.ts'
import { runPlanAct } from './gestures/pointer.ts'
import { type GlyphName, PlanGlyph } from './PlanGlyph.tsx'
import { PlanSnaps } from './PlanSnaps.tsx'

const apple = /Mac|iPhone|iPad/.test(navigator.platform)

export function PlanTools() {
  return (
    <div className="plan-tools" role="toolbar" aria-label="Tools of the plan">
      <Takes />
      <PutDown />
      <Push hint="In the parts column: pattern, how many, what stays" onPush={() => askForPart('fill', true)}>
        Fill…
      </Push>
      <PlanSnaps />
      <Overlay act="returned">Returned light</Overlay>
      <Overlay act="warmth">Temperature</Overlay>
      <span className="plan-signs">
        <Sign act="align-centreX" of="column" least={2} />
        <Sign act="align-centreY" of="row" least={2} />
        <Sign act="space-x" of="gapsAcross" least={3} />
        <Sign act="space-y" of="gapsUp" least={3} />
        <Sign act="mirror-x" of="mirrorX" least={1} />
        <Sign act="mirror-y" of="mirrorY" least={1} />
        <Sign act="ring" of="ring" least={2} />
        <Sign act="turn-15" of="turnLeft" least={1} />
        <Sign act="turn--15" of="turnRight" least={1} />
        <Sign act="copy" of="copy" least={1} />
        <Sign act="delete" of="away" least={1} />
        <span className="plan-rule" aria-hidden="true" />
        <Sign act="farther" of="farther" least={0} />
        <Sign act="closer" of="closer" least={0} />
        <Sign act="fit" of="whole" least={0} />
      </span>
    </div>
  )
}

function Takes() {
  const takes = usePlan((s) => s.takes)
  return (
    <Choice
      label="Pick"
      value={takes}
      segments
      does="What a click on the drawing takes (key e)"
      options={[
        { key: 'boards', name: 'Boards' },
        { key: 'emitters', name: 'Emitters' },
      ]}
      onChoose={() => runPlanAct('emitters')}
    />
  )
}

function PutDown() {
  const placing = usePlan((s) => s.tool === 'place')
  const typeId = usePlan((s) => s.placeType)
  const types = useDesign((s) => s.lamp.boardTypes)
  const now = types.find((t) => t.id === typeId) ?? types[0]!
  return (
    <>
      <Words act="place" pressed={placing}>
        Put down
      </Words>
      {placing && types.length > 1 && (
        <Choice
          label="Board"
          value={now.id}
          options={types.map((t) => ({ key: t.id, name: t.name }))}
          onChoose={(placeType) => plan.setState({ placeType })}
        />
      )}
    </>
  )
}

function Overlay({ act, children }: { act: 'returned' | 'warmth'; children: string }) {
  const on = usePlan((s) => s.overlay === act)
  return (
    <Words act={act} pressed={on}>
      {children}
    </Words>
  )
}

function Words({ act, pressed, children }: { act: string; pressed: boolean; children: string }) {
  return (
    <TooltipTrigger delay={500}>
      <Button
        className="ui-button plan-toggle"
        aria-pressed={pressed}
        data-on={pressed || undefined}
        onPress={() => runPlanAct(act)}
      >
        {children}
      </Button>
      <Hint act={act} />
    </TooltipTrigger>
  )
}

function Sign({ act, of, least }: { act: string; of: GlyphName; least: number }) {
  const able = useView((s) => s.boards.length >= least)
  return (
    <TooltipTrigger delay={300}>
      <Button
        className="ui-button plan-sign"
        aria-label={planAct(act).label}
        isDisabled={!able}
        onPress={() => runPlanAct(act)}
      >
        <PlanGlyph of={of} />
      </Button>
      <Hint act={act} />
    </TooltipTrigger>
  )
}

function Hint({ act }: { act: string }) {
  const { label, keys } = planAct(act)
  const key = keys[0]
  return (
    <Tooltip className="ui-tooltip" offset={4}>
      {label}
      {key && <span className="plan-key">{chordText(key, apple)}</span>}
    </Tooltip>
  )
}

// What a dragged board snaps to.
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import { plan, usePlan } from '../store/plan.ts'
import { NumberField } from '../ui/NumberField.tsx'
import { Toggle } from '../ui/Toggle.tsx'

export function PlanSnaps() {
  const grid = usePlan((s) => s.snapGrid)
  const gridMm = usePlan((s) => s.gridMm)
  const neighbours = usePlan((s) => s.snapNeighbours)
  const rings = usePlan((s) => s.snapRings)
  return (
    <DialogTrigger>
      <Button className="ui-button">Snap to…</Button>
      <Popover className="ui-popover plan-panel">
        <Dialog className="plan-panel-body" aria-label="What a dragged board snaps to">
          <Toggle
            label="Neighbours and rows"
            value={neighbours}
            onChange={(on) => plan.setState({ snapNeighbours: on })}
          />
          <Toggle label="Rings about the axis" value={rings} onChange={(on) => plan.setState({ snapRings: on })} />
          <Toggle label="Grid" value={grid} onChange={(on) => plan.setState({ snapGrid: on })} />
          <NumberField
            label="Grid step"
            unit="mm"
            value={gridMm}
            step={0.5}
            min={0.01}
            max={200}
            isDisabled={!grid}
            onSet={(mm) => {
              plan.setState({ gridMm: mm })
              return null
            }}
          />
          <p className="plan-small">Alt, held during a drag, lets the board go freely.</p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

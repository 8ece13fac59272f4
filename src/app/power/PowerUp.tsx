// Checklist for the first power-up. Ticks are stored in the lamp's file; each is one step of history.

import { useMemo } from 'react'
import type { PowerUpItem } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { allInSystem } from '../../num/quantity.ts'
import { remarksOn, remarkWords } from '../../report/wiringTable.ts'
import { power, usePower } from '../store/power.ts'
import { usePowerFindings } from '../store/severe.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { PowerUpTable } from './PowerUpTable.tsx'
import { printPanel } from './printPanel.ts'
import { ticked } from './ticks.ts'

const NONE: readonly string[] = []
const NO_ITEMS: readonly PowerUpItem[] = []
const doneOf = (lamp: Lamp) => lamp.powerUp?.done ?? NONE

export function PowerUp() {
  const inBoth = usePower((s) => s.report?.powerUp)
  const system = useUnitSystem()
  const items = useMemo(() => inBoth && allInSystem(inBoth, system), [inBoth, system])
  const done = useDesign((s) => doneOf(s.lamp))
  const name = useDesign((s) => s.lamp.name)
  const set = useMemo(() => new Set(done), [done])
  const count = (items ?? []).filter((i) => set.has(i.key)).length
  return (
    <div className="power-list">
      <div className="power-part-head">
        <h3>Before {name} first gets full current</h3>
        <span className="power-quiet">
          {count} of {items?.length ?? 0} done
        </span>
        <div className="power-buttons">
          <Button kind="quiet" onPress={printPanel}>
            Print
          </Button>
        </div>
      </div>
      <p className="power-caution">
        A short circuit of a battery burns and a beam blinds: one channel at a time, at low current first, eyes never in
        line with the lens. Local codes and licensed practice come first.
      </p>
      <fieldset className="power-whole">
        <legend>The whole lamp</legend>
        {(items ?? NO_ITEMS).map(
          (item) => item.channel === null && <Item key={item.key} item={item} isDone={set.has(item.key)} />,
        )}
      </fieldset>
      <PowerUpTable items={items ?? NO_ITEMS} done={set} onTick={tick} />
    </div>
  )
}

function Item({ item, isDone }: { item: PowerUpItem; isDone: boolean }) {
  const { fuseOf } = item
  const findings = usePowerFindings()
  const remarks = fuseOf === null ? [] : remarksOn(findings, [{ kind: 'fuse', id: fuseOf }])
  return (
    <label className="power-item">
      <input type="checkbox" checked={isDone} onChange={(e) => tick(item, e.currentTarget.checked)} />
      <span>
        <b>{item.step}</b> {item.what}
        {remarks.map((r) => (
          <strong key={r.title} className="power-remark" data-severity={r.severity}>
            {remarkWords(r)}
          </strong>
        ))}
      </span>
    </label>
  )
}

function tick({ key, channel, step }: PowerUpItem, on: boolean) {
  const what = `${channel === null ? '' : `${channel}, `}${step}`
  const why = tryEdit(design, `Power-up: ${on ? 'tick' : 'untick'} ${what}`, (lamp) => ticked(lamp, key, on))
  if (why) power.setState({ announcement: why })
}

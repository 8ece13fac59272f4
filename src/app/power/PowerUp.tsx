// Checklist for the first power-up. Ticks are stored in the lamp's file; each is one step of history.
import { useMemo } from 'react'
import type { PowerUpItem } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { remarksOn, remarkWords } from '../../report/wiringTable.ts'
import { power, usePower } from '../store/power.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { printPanel } from './printPanel.ts'
import { ticked } from './ticks.ts'

const NONE: readonly string[] = []
const doneOf = (lamp: Lamp) => lamp.powerUp?.done ?? NONE

export function PowerUp() {
  const items = usePower((s) => s.report?.powerUp)
  const done = useDesign((s) => doneOf(s.lamp))
  const name = useDesign((s) => s.lamp.name)
  const groups = useMemo(() => byChannel(items ?? []), [items])
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
      <div className="power-groups">
        {[...groups].map(([channel, rows]) => (
          <fieldset key={channel ?? ''}>
            <legend>{channel === null ? 'The whole lamp' : `Channel ${channel}`}</legend>
            {rows.map((item) => (
              <Item key={item.key} item={item} isDone={set.has(item.key)} />
            ))}
          </fieldset>
        ))}
      </div>
    </div>
  )
}

function byChannel(items: readonly PowerUpItem[]): Map<string | null, PowerUpItem[]> {
  const groups = new Map<string | null, PowerUpItem[]>()
  for (const item of items) {
    const rows = groups.get(item.channel)
    if (rows) rows.push(item)
    else groups.set(item.channel, [item])
  }
  return groups
}

function Item({ item, isDone }: { item: PowerUpItem; isDone: boolean }) {
  const { fuseOf } = item
  const findings = usePower((s) => s.findings)
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

// Wire lengths of single channels that differ from the others.

import { useMemo, useState } from 'react'
import { ownEntry } from '../../lamp/ownEntry.ts'
import { harness } from '../../lamp/power.ts'
import type { Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { channelsOf } from '../../power/channels.ts'
import { valueText } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { withChannelLength, withPower } from './powerEdits.ts'
import { PowerNumber } from './powerFields.tsx'

const lengthOf = (p: Power, id: string): number => ownEntry(p.harness.channelLengthMm, id) ?? p.harness.channel.lengthMm

export function ChannelLengths() {
  const lamp = useDesign((s) => s.lamp)
  const { power, channels } = useMemo(() => {
    const power = powerOf(lamp).value
    return { power, channels: channelsOf(lamp, power) }
  }, [lamp])
  const [selectedId, choose] = useState('')
  const system = useUnitSystem()
  const first = channels[0]
  if (!first) return null
  const { id } = channels.find((c) => c.id === selectedId) ?? first
  const own = channels.filter((c) => ownEntry(power.harness.channelLengthMm, c.id) !== undefined)
  return (
    <fieldset className="parts-item">
      <legend>Single channels</legend>
      <Choice
        label="Channel"
        value={id}
        options={channels.map((c) => ({ key: c.id, name: c.id }))}
        onChoose={(key: string) => choose(key)}
      />
      <PowerNumber
        key={id}
        label={`To driver ${id}`}
        unit="mm"
        step={50}
        of={harness.shape.channelLengthMm.unwrap().valueType}
        description="One way from the branching place; the others keep their length"
        get={(p) => lengthOf(p, id)}
        set={(p, mm) => withChannelLength(p, id, mm === p.harness.channel.lengthMm ? null : mm)}
      />
      <p className="parts-note">
        {own.length === 0
          ? 'All are as long as the run above says.'
          : `Of their own length: ${own.map((c) => `${c.id} ${valueText(lengthOf(power, c.id), 'mm', system)}`).join(', ')}.`}
      </p>
      {own.some((c) => c.id === id) && (
        <div className="parts-buttons">
          <Button
            kind="quiet"
            onPress={() =>
              tryEdit(design, `Wires: ${id} as the others`, (lamp) =>
                withPower(lamp, (p) => withChannelLength(p, id, null)),
              )
            }
          >
            {`${id} as the others`}
          </Button>
        </div>
      )}
    </fieldset>
  )
}

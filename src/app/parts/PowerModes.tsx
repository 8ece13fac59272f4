// Modes: share of each board's own current, and the step-down.
import { isGroupOn } from '../../lamp/groups.ts'
import { ownEntry } from '../../lamp/ownEntry.ts'
import { mode as schema } from '../../lamp/power.ts'
import type { Mode, Power } from '../../lamp/schema.ts'
import { withGroupOn } from '../common/groupEdits.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { Part } from './Part.tsx'
import { groupStartA, withGroupA, withItem, withPower } from './powerEdits.ts'
import { ListHead, PowerChoice, PowerNumber, PowerText, usePowerValue } from './powerFields.tsx'
import { useRow } from './TypeRow.tsx'

const down = schema.shape.stepDown.unwrap().options
type Watch = NonNullable<Mode['stepDown']>['watch'] | 'none'

function stepDownOf(watch: Watch, before: Mode['stepDown']): Mode['stepDown'] {
  const toShare = before?.toShare ?? 0.5
  if (watch === 'none') return null
  if (watch === 'time') return { watch, afterS: 60, toShare }
  return { watch, atC: watch === 'junction' ? 110 : 70, toShare }
}

export function PowerModes() {
  const { modes } = usePowerValue()
  const [id, choose] = useRow(modes)
  const row = (p: Power): Mode => p.modes.find((m) => m.id === id) ?? p.modes[0]!
  const shown = modes.find((m) => m.id === id) ?? modes[0]!
  const set = (p: Power, part: Partial<Mode>) => withItem(p, 'modes', id, part)
  const setDown = (p: Power, part: object) => {
    const { stepDown } = row(p)
    return stepDown ? set(p, { stepDown: { ...stepDown, ...part } as Mode['stepDown'] }) : p
  }
  return (
    <Part
      of="power-modes"
      title="Modes"
      summary={<span translate="no">{modes.map((m) => m.name).join(', ')}</span>}
      level={3}
      edits="Mode"
    >
      <ListHead list="modes" what="mode" id={id} choose={choose} />
      <PowerText label="Name" get={(p) => row(p).name} set={(p, name) => set(p, { name })} />
      <PowerNumber
        label="Current"
        unit="share"
        step={0.05}
        of={schema.shape.share}
        description="Of each board’s own current"
        get={(p) => row(p).share}
        set={(p, share) => set(p, { share })}
      />
      <GroupCurrents mode={id} />
      <PowerChoice<Watch>
        label="Steps down"
        options={[
          { key: 'none', name: 'never' },
          { key: 'junction', name: 'by the hottest junction' },
          { key: 'plate', name: 'by the plate' },
          { key: 'time', name: 'after a time' },
        ]}
        get={(p) => row(p).stepDown?.watch ?? 'none'}
        set={(p, watch) => set(p, { stepDown: stepDownOf(watch, row(p).stepDown) })}
      />
      {shown.stepDown && shown.stepDown.watch !== 'time' && (
        <PowerNumber
          label="Steps down at"
          unit="°C"
          step={1}
          of={down[0].shape.atC}
          get={(p) => {
            const d = row(p).stepDown
            return d && d.watch !== 'time' ? d.atC : null
          }}
          set={(p, atC) => setDown(p, { atC })}
        />
      )}
      {shown.stepDown?.watch === 'time' && (
        <PowerNumber
          label="Steps down after"
          unit="s"
          step={1}
          of={down[2].shape.afterS}
          get={(p) => {
            const d = row(p).stepDown
            return d?.watch === 'time' ? d.afterS : null
          }}
          set={(p, afterS) => setDown(p, { afterS })}
        />
      )}
      {shown.stepDown && (
        <PowerNumber
          label="Goes on with"
          unit="share"
          step={0.05}
          of={down[0].shape.toShare}
          description="Of the mode’s current"
          get={(p) => row(p).stepDown?.toShare ?? null}
          set={(p, toShare) => setDown(p, { toShare })}
        />
      )}
    </Part>
  )
}

/** In a mode a group may be off, or have a current of its own instead of the share. */
function GroupCurrents({ mode }: { mode: string }) {
  const { groups, modes } = usePowerValue()
  const shown = modes.find((m) => m.id === mode)
  const own = shown?.groupA ?? {}
  const many = groups.length > 1
  return groups.map((g) => (
    <div key={g.id}>
      {many && (
        <Toggle
          label={`${g.name}: on`}
          value={!shown || isGroupOn(shown, g.id)}
          description="A group that is off gives no light in this mode"
          onChange={(on) =>
            tryEdit(design, `Mode: ${g.name} ${on ? 'on' : 'off'}`, (lamp) =>
              withPower(lamp, (p) => withGroupOn(p, mode, g.id, on)),
            )
          }
        />
      )}
      <Toggle
        label={many ? `${g.name}: a current of its own` : 'A current of its own'}
        value={ownEntry(own, g.id) !== undefined}
        description="Through each emitter of these boards, whatever the boards’ own current is"
        onChange={(on) =>
          tryEdit(design, `Mode: ${on ? 'current' : 'share'} of ${g.name}`, (lamp) =>
            withPower(lamp, (p) => {
              const now = p.modes.find((m) => m.id === mode) ?? p.modes[0]!
              return withGroupA(p, now.id, g.id, on ? groupStartA(lamp, now, g.id) : null)
            }),
          )
        }
      />
      {ownEntry(own, g.id) !== undefined && (
        <PowerNumber
          label={many ? `${g.name}, each emitter` : 'Each emitter'}
          unit="A"
          step={0.05}
          of={schema.shape.groupA.unwrap().valueType}
          description="Through each emitter of these boards in this mode"
          get={(p) => ownEntry(p.modes.find((m) => m.id === mode)?.groupA, g.id) ?? null}
          set={(p, amps) => withGroupA(p, mode, g.id, amps)}
        />
      )}
    </div>
  ))
}

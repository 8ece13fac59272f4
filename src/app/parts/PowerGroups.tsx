// Groups of boards: their driver, and the relay and wires that switch each of them.
import { useState } from 'react'
import type { z } from 'zod'
import { group as schema } from '../../lamp/power.ts'
import type { Group, Power } from '../../lamp/schema.ts'
import { boardIdsOf, withBoardsIn } from '../common/groupEdits.ts'
import type { Unit } from '../common/units.ts'
import { design, useDesign, useView, view } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { Part } from './Part.tsx'
import { withItem, without, withPower } from './powerEdits.ts'
import { ListHead, PowerChoice, PowerNumber, PowerText, usePowerValue } from './powerFields.tsx'
import { useRow } from './TypeRow.tsx'

const rowOf = (p: Power, id: string): Group => p.groups.find((g) => g.id === id) ?? p.groups[0]!

export function PowerGroups() {
  const { groups, drivers } = usePowerValue()
  const [id, choose] = useRow(groups)
  const row = (p: Power) => rowOf(p, id)
  return (
    <Part
      of="power-groups"
      title="Groups of boards"
      summary={<span translate="no">{groups.length === 1 ? groups[0]?.name : groups.length}</span>}
      level={3}
      edits="Group"
    >
      <ListHead list="groups" what="group" id={id} choose={choose} />
      <PowerText label="Name" get={(p) => row(p).name} set={(p, name) => withItem(p, 'groups', id, { name })} />
      <PowerChoice
        label="Driver"
        options={drivers.map((d) => ({ key: d.id, name: d.name }))}
        asTyped
        get={(p) => row(p).driver}
        set={(p, key) => withItem(p, 'groups', id, { driver: key })}
      />
      <PowerChoice
        label="Wired"
        options={[
          { key: 'each', name: 'a driver for each board' },
          { key: 'series', name: 'one driver, boards in series' },
          { key: 'parallel', name: 'one driver, boards in parallel' },
        ]}
        description="Boards in parallel share the current only as fairly as they are alike"
        get={(p) => row(p).wired}
        set={(p, wired) => withItem(p, 'groups', id, { wired })}
      />
      <Members group={id} />
      <Relay group={id} />
      <Feed group={id} />
    </Part>
  )
}

/** The boards selected on the plan can be assigned to a group. */
function Members({ group }: { group: string }) {
  const members = useDesign((s) => boardIdsOf(s.lamp, group).length)
  const selected = useView((s) => s.boards)
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <p className="parts-note">
        {members} {members === 1 ? 'board is' : 'boards are'} in this group.
      </p>
      <div className="parts-buttons">
        <Button
          kind="quiet"
          isDisabled={members === 0}
          onPress={() => view.setState({ boards: boardIdsOf(design.lamp(), group), emitters: [] })}
        >
          Select them
        </Button>
        <Button
          kind="quiet"
          hint={selected.length === 0 ? 'Select boards on the plan first' : undefined}
          isDisabled={selected.length === 0}
          onPress={() => setWhy(tryEdit(design, 'Group: boards', (lamp) => withBoardsIn(lamp, group, selected)))}
        >
          Take in the selected boards
        </Button>
      </div>
      <ErrorText why={why} />
    </>
  )
}

interface FieldOf<K extends string> {
  key: K
  label: string
  unit: Unit
  step: number
  of: z.ZodNumber
  /** What stands where the document names none; absent: it has to name one. */
  whenEmpty?: string
}

const relay = schema.shape.relay.unwrap().shape
const RELAY: readonly FieldOf<keyof NonNullable<Group['relay']>>[] = [
  { key: 'maxA', label: 'Relay, at most', unit: 'A', step: 1, of: relay.maxA },
  { key: 'milliohm', label: 'Relay, contact', unit: 'mΩ', step: 0.1, of: relay.milliohm },
  { key: 'maxV', label: 'Relay, volts DC', unit: 'V', step: 1, of: relay.maxV.unwrap(), whenEmpty: 'not named' },
  { key: 'breaksA', label: 'Relay, breaks', unit: 'A', step: 10, of: relay.breaksA.unwrap(), whenEmpty: 'not named' },
  { key: 'makesA', label: 'Relay, makes', unit: 'A', step: 10, of: relay.makesA.unwrap(), whenEmpty: 'not named' },
]

function Relay({ group }: { group: string }) {
  const has = rowOf(usePowerValue(), group).relay !== undefined
  return (
    <>
      <Toggle
        label="Relay or contactor of its own"
        value={has}
        description="Switches the whole group; its contacts may weld shut, so dangers are judged with every group on"
        onChange={(on) =>
          tryEdit(design, on ? 'Group: relay' : 'Group: no relay', (lamp) =>
            withPower(lamp, (p) => withGroup(p, group, 'relay', on ? { maxA: 30, milliohm: 2 } : null)),
          )
        }
      />
      {has && (
        <Fields
          fields={RELAY}
          get={(p, key) => rowOf(p, group).relay?.[key] ?? null}
          set={(p, key, value) => {
            const had = rowOf(p, group).relay
            if (!had) return p
            return withGroup(p, group, 'relay', value === null ? without(had, key) : { ...had, [key]: value })
          }}
        />
      )}
    </>
  )
}

const feed = schema.shape.feed.unwrap().shape
const FEED: readonly FieldOf<'lengthMm' | 'connectors' | 'bundled' | 'insulationC'>[] = [
  { key: 'lengthMm', label: 'Length, one way', unit: 'mm', step: 10, of: feed.lengthMm },
  { key: 'connectors', label: 'Connectors', unit: '', step: 1, of: feed.connectors },
  { key: 'bundled', label: 'Conductors in its bundle', unit: '', step: 1, of: feed.bundled.unwrap(), whenEmpty: 'two' },
  {
    key: 'insulationC',
    label: 'Insulation',
    unit: '°C',
    step: 5,
    of: feed.insulationC.unwrap(),
    whenEmpty: 'as the others',
  },
]

function Feed({ group }: { group: string }) {
  const power = usePowerValue()
  const own = rowOf(power, group).feed
  const set = (what: string, value: Group['feed'] | null) =>
    tryEdit(design, `Group: ${what}`, (lamp) => withPower(lamp, (p) => withGroup(p, group, 'feed', value ?? null)))
  return (
    <>
      <Toggle
        label="Wires of its own to its branching place"
        value={own !== undefined}
        description="Otherwise its channels branch where those of all groups do"
        onChange={(on) => {
          const { bundled: _, ...main } = power.harness.main
          return set(on ? 'wires' : 'no wires', on ? { ...main, lengthMm: 500, connectors: 0, fuse: null } : null)
        }}
      />
      {own && (
        <>
          <FeedGauge group={group} />
          <Fields
            fields={FEED}
            get={(p, key) => rowOf(p, group).feed?.[key] ?? null}
            set={(p, key, value) => {
              const had = rowOf(p, group).feed
              if (!had) return p
              return withGroup(p, group, 'feed', value === null ? without(had, key) : { ...had, [key]: value })
            }}
          />
          <Toggle
            label="Fuse where they begin"
            value={own.fuse !== null}
            onChange={(on) => set(on ? 'fuse' : 'no fuse', { ...own, fuse: on ? { amps: 20, volts: 58 } : null })}
          />
          {own.fuse && <FeedFuse group={group} />}
        </>
      )}
      <PowerNumber
        label="Channels in one bundle"
        unit=""
        step={1}
        of={schema.shape.bundled.unwrap()}
        description="Conductors that carry current in one bundle with each wire to its drivers"
        whenEmpty="as the others"
        get={(p) => rowOf(p, group).bundled ?? null}
        set={(p, bundled) => withItem(p, 'groups', group, { bundled })}
        clear={(p) => withGroup(p, group, 'bundled', null)}
      />
    </>
  )
}

const FeedGauge = ({ group }: { group: string }) => {
  const { system } = rowOf(usePowerValue(), group).feed?.gauge ?? { system: 'awg' }
  const [awg, mm2] = feed.gauge.options
  const gauge = (p: Power) => rowOf(p, group).feed?.gauge
  return system === 'awg' ? (
    <PowerNumber
      label="Gauge, AWG"
      unit=""
      step={1}
      of={awg.shape.number}
      get={(p) => {
        const g = gauge(p)
        return g?.system === 'awg' ? g.number : null
      }}
      set={(p, number) => withFeed(p, group, { gauge: { system: 'awg', number } })}
    />
  ) : (
    <PowerNumber
      label="Section, mm²"
      unit=""
      step={0.5}
      of={mm2.shape.mm2}
      get={(p) => {
        const g = gauge(p)
        return g?.system === 'mm2' ? g.mm2 : null
      }}
      set={(p, v) => withFeed(p, group, { gauge: { system: 'mm2', mm2: v } })}
    />
  )
}

const fuse = feed.fuse.unwrap().shape

function FeedFuse({ group }: { group: string }) {
  const of = (p: Power) => rowOf(p, group).feed?.fuse ?? null
  const set = (p: Power, part: Partial<NonNullable<ReturnType<typeof of>>>) => {
    const had = of(p)
    return had ? withFeed(p, group, { fuse: { ...had, ...part } }) : p
  }
  return (
    <>
      <PowerNumber
        label="Fuse"
        unit="A"
        step={1}
        of={fuse.amps}
        get={(p) => of(p)?.amps ?? null}
        set={(p, amps) => set(p, { amps })}
      />
      <PowerNumber
        label="Fuse, volts"
        unit="V"
        step={1}
        of={fuse.volts}
        get={(p) => of(p)?.volts ?? null}
        set={(p, volts) => set(p, { volts })}
      />
    </>
  )
}

/** Number fields of a group's relay or wires; null takes a value away that need not be there. */
function Fields<K extends string>(p: {
  fields: readonly FieldOf<K>[]
  get(power: Power, key: K): number | null
  set(power: Power, key: K, value: number | null): Power
}) {
  return p.fields.map(({ key, whenEmpty, ...field }) => (
    <PowerNumber
      key={key}
      {...field}
      get={(power) => p.get(power, key)}
      set={(power, value) => p.set(power, key, value)}
      {...(whenEmpty === undefined ? {} : { whenEmpty, clear: (power: Power) => p.set(power, key, null) })}
    />
  ))
}

/** Sets an entry of a group that need not be there; null takes it away. */
function withGroup<K extends 'relay' | 'feed' | 'bundled'>(
  power: Power,
  id: string,
  key: K,
  value: NonNullable<Group[K]> | null,
): Power {
  const changed = (g: Group): Group => (value === null ? without(g, key) : { ...g, [key]: value })
  return { ...power, groups: power.groups.map((g) => (g.id === id ? changed(g) : g)) }
}

const withFeed = (power: Power, id: string, part: Partial<NonNullable<Group['feed']>>): Power => {
  const had = rowOf(power, id).feed
  return had ? withGroup(power, id, 'feed', { ...had, ...part }) : power
}

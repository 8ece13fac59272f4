// Drivers; the groups of boards that they supply follow.
import { Fragment } from 'react'
import { driver } from '../../lamp/power.ts'
import type { Driver, Power } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { Part } from './Part.tsx'
import { PowerGroups } from './PowerGroups.tsx'
import { withItem, without, withPulses } from './powerEdits.ts'
import { ListHead, PowerChoice, PowerNumber, PowerText, usePowerValue } from './powerFields.tsx'
import { useRow } from './TypeRow.tsx'

const of = driver.shape
const FIELDS: readonly {
  key: 'inputMinV' | 'inputMaxV' | 'headroomV' | 'efficiency' | 'maxOutputA'
  label: string
  unit: Unit
  step: number
  description?: string
}[] = [
  { key: 'inputMinV', label: 'Input, least', unit: 'V', step: 1, description: 'Below it the driver switches off' },
  { key: 'inputMaxV', label: 'Input, most', unit: 'V', step: 1, description: 'Above it the driver is destroyed' },
  {
    key: 'headroomV',
    label: 'Headroom',
    unit: 'V',
    step: 0.1,
    description: 'Input over output that it needs to hold its current',
  },
  { key: 'efficiency', label: 'Efficiency', unit: 'share', step: 0.01, description: 'At its usual load' },
  { key: 'maxOutputA', label: 'Output, most', unit: 'A', step: 0.1 },
]

const rowOf = <T extends { id: string }>(rows: readonly T[], id: string): T => rows.find((r) => r.id === id) ?? rows[0]!

export function PowerDrivers() {
  const { drivers } = usePowerValue()
  const [id, choose] = useRow(drivers)
  const row = (p: Power): Driver => rowOf(p.drivers, id)
  const set = (p: Power, part: Partial<Driver>) => withItem(p, 'drivers', id, part)
  return (
    <>
      <Part
        of="power-drivers"
        title="Drivers"
        summary={<span translate="no">{rowOf(drivers, id).name}</span>}
        level={3}
        edits="Driver"
      >
        <ListHead list="drivers" what="driver" id={id} choose={choose} />
        <PowerText label="Name" get={(p) => row(p).name} set={(p, name) => set(p, { name })} />
        <PowerChoice
          label="Kind"
          options={[
            { key: 'buck', name: 'steps down' },
            { key: 'boost', name: 'steps up' },
            { key: 'buck-boost', name: 'steps down or up' },
            { key: 'linear', name: 'linear' },
          ]}
          get={(p) => row(p).kind}
          set={(p, kind) => set(p, { kind })}
        />
        {FIELDS.map(({ key, ...f }) => (
          <PowerNumber key={key} {...f} of={of[key]} get={(p) => row(p)[key]} set={(p, v) => set(p, { [key]: v })} />
        ))}
        <PowerNumber
          label="Input capacitance, µF"
          unit=""
          step={10}
          of={of.inputMicrofarad.unwrap()}
          description="Charged at switch-on, through the contactor"
          whenEmpty="not named; 220 is taken"
          get={(p) => row(p).inputMicrofarad ?? null}
          set={(p, inputMicrofarad) => set(p, { inputMicrofarad })}
          clear={(p) => ({
            ...p,
            drivers: p.drivers.map((d) => (d.id === row(p).id ? without(d, 'inputMicrofarad') : d)),
          })}
        />
        <PowerChoice
          label="Mounted"
          segments
          options={[
            { key: 'elsewhere', name: 'elsewhere' },
            { key: 'plate', name: 'on the plate' },
          ]}
          description="On the plate its losses warm the lamp; elsewhere they enter no temperature"
          get={(p) => row(p).mounted ?? 'elsewhere'}
          set={(p, mounted) => set(p, { mounted })}
        />
        <PowerChoice
          label="Dims by"
          segments
          options={[
            { key: 'current', name: 'current' },
            { key: 'pulse width', name: 'pulse width' },
          ]}
          description="Pulses keep the colour; less current gives more light a watt"
          get={(p) => row(p).dimming}
          set={(p, dimming) => set(p, { dimming })}
        />
        {rowOf(drivers, id).dimming === 'pulse width' && <Pulses id={id} />}
      </Part>
      <PowerGroups />
    </>
  )
}

/** What is new begins on the hot side: at 100 Hz and full depth flicker is far beyond low risk. */
const PULSES = [
  {
    key: 'pwmHz',
    choice: 'Pulse frequency',
    choiceDescription: 'Without it flicker can’t be judged',
    label: 'Pulses a second',
    without: 'not known',
    unit: 'Hz',
    step: 100,
    start: 100,
    description: 'The faster, the less harm by flicker; above 3 kHz no effect is to be seen (IEEE 1789-2015)',
  },
  {
    key: 'pwmModulationPercent',
    choice: 'Depth of pulses',
    choiceDescription: 'Full: dark between the pulses. A filter behind the driver makes them less deep',
    label: 'Depth',
    without: 'full',
    unit: '%',
    step: 1,
    start: 100,
    description: 'Of the light: (most − least)/(most + least)',
  },
] as const

function Pulses({ id }: { id: string }) {
  const shown = rowOf(usePowerValue().drivers, id)
  return PULSES.map(({ key, choice, choiceDescription, without, start, ...f }) => (
    <Fragment key={key}>
      <PowerChoice
        label={choice}
        segments
        description={choiceDescription}
        options={[
          { key: 'without', name: without },
          { key: 'given', name: 'given' },
        ]}
        get={(p) => (rowOf(p.drivers, id)[key] === undefined ? 'without' : 'given')}
        set={(p, to) => withPulses(p, rowOf(p.drivers, id).id, key, to === 'given' ? start : null)}
      />
      {shown[key] !== undefined && (
        <PowerNumber
          {...f}
          of={of[key].unwrap()}
          get={(p) => rowOf(p.drivers, id)[key] ?? null}
          set={(p, v) => withPulses(p, rowOf(p.drivers, id).id, key, v)}
        />
      )}
    </Fragment>
  ))
}

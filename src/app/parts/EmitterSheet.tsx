// The rest of an emitter's data sheet: ratings, size, heat, and three tables.
import { emitterType } from '../../lamp/parts.ts'
import type { EmitterType } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { withEmitter } from './edits.ts'
import { LampNumber } from './fields.tsx'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'

const of = emitterType.shape
type Plain =
  | 'ratedCurrentA'
  | 'ratedJunctionC'
  | 'maxCurrentA'
  | 'maxJunctionC'
  | 'heightMm'
  | 'bodyMm'
  | 'thermalResistanceKW'

const FIELDS: readonly { key: Plain; label: string; unit: Unit; step: number; description: string }[] = [
  {
    key: 'ratedCurrentA',
    label: 'Rated current',
    unit: 'A',
    step: 0.05,
    description: 'Current at which the flux is stated',
  },
  {
    key: 'ratedJunctionC',
    label: 'Rated junction',
    unit: '°C',
    step: 1,
    description: 'Junction temperature at which the flux is stated',
  },
  {
    key: 'maxCurrentA',
    label: 'Greatest current',
    unit: 'A',
    step: 0.05,
    description: 'Above it the part is outside its data sheet',
  },
  {
    key: 'maxJunctionC',
    label: 'Greatest junction',
    unit: '°C',
    step: 1,
    description: 'Above it the part fails early',
  },
  {
    key: 'heightMm',
    label: 'Height of the source',
    unit: 'mm',
    step: 0.1,
    description: 'Lit surface above the face, board and package together',
  },
  { key: 'bodyMm', label: 'Package diameter', unit: 'mm', step: 0.1, description: 'For clearances' },
  {
    key: 'thermalResistanceKW',
    label: 'Junction to board',
    unit: 'K/W',
    step: 0.1,
    description: 'How much hotter than the board the junction runs, for each watt of heat',
  },
]

const softening = of.forwardByJunction.unwrap().element.shape
const NO_ROWS: NonNullable<EmitterType['forwardByJunction']> = []

export function EmitterSheet({ id }: { id: string }) {
  const at = (rows: readonly EmitterType[]) => rows.find((e) => e.id === id) ?? rows[0]!
  return (
    <>
      <Part of="emitterRatings" title="Ratings, size, heat" level={3} edits="Emitter">
        {FIELDS.map((f) => (
          <LampNumber
            key={f.key}
            label={f.label}
            unit={f.unit}
            step={f.step}
            description={f.description}
            of={of[f.key]}
            read={(lamp) => at(lamp.emitterTypes)[f.key]}
            write={(lamp, v) => withEmitter(lamp, id, { [f.key]: v })}
          />
        ))}
      </Part>
      <Part of="emitterTables" title="Tables of its data sheet" level={3} edits="Emitter">
        <PairTable
          title="Forward voltage"
          first={{ key: 'currentA', name: 'Current', unit: 'A', of: of.forward.element.shape.currentA, step: 0.05 }}
          second={{ key: 'volts', name: 'Voltage', unit: 'V', of: of.forward.element.shape.volts, step: 0.01 }}
          least={1}
          read={(lamp) => at(lamp.emitterTypes).forward}
          write={(lamp, forward) => withEmitter(lamp, id, { forward })}
        />
        <PairTable
          title="Flux over current"
          first={{
            key: 'currentA',
            name: 'Current',
            unit: 'A',
            of: of.fluxByCurrent.element.shape.currentA,
            step: 0.05,
          }}
          second={{
            key: 'factor',
            name: 'Flux, rated = 1',
            unit: '',
            of: of.fluxByCurrent.element.shape.factor,
            step: 0.01,
          }}
          least={0}
          empty="Empty: in proportion to the current."
          read={(lamp) => at(lamp.emitterTypes).fluxByCurrent}
          write={(lamp, fluxByCurrent) => withEmitter(lamp, id, { fluxByCurrent })}
        />
        <PairTable
          title="Flux over junction temperature"
          first={{
            key: 'junctionC',
            name: 'Junction',
            unit: '°C',
            of: of.fluxByJunction.element.shape.junctionC,
            step: 1,
          }}
          second={{
            key: 'factor',
            name: 'Flux, rated = 1',
            unit: '',
            of: of.fluxByJunction.element.shape.factor,
            step: 0.01,
          }}
          least={0}
          empty="Empty: the same at any temperature."
          read={(lamp) => at(lamp.emitterTypes).fluxByJunction}
          write={(lamp, fluxByJunction) => withEmitter(lamp, id, { fluxByJunction })}
        />
        <PairTable
          title="Voltage over junction temperature"
          first={{ key: 'junctionC', name: 'Junction', unit: '°C', of: softening.junctionC, step: 1 }}
          second={{ key: 'factor', name: 'Voltage, rated = 1', unit: '', of: softening.factor, step: 0.01 }}
          least={0}
          empty="Empty: the same at any temperature."
          read={(lamp) => at(lamp.emitterTypes).forwardByJunction ?? NO_ROWS}
          write={(lamp, forwardByJunction) => withEmitter(lamp, id, { forwardByJunction })}
        />
      </Part>
    </>
  )
}

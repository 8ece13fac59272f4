// Cooling: plate, fins, air; and the temperature at which the light is traced.

import { heat, reading } from '../../lamp/parts.ts'
import { cooling } from '../../lamp/power.ts'
import type { Cooling, Lamp } from '../../lamp/schema.ts'
import { METALS } from '../../library/metals.ts'
import { coolingOf, powerOf } from '../../library/typicalPower.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { formatNumber, valueText } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { HeatBoards } from './HeatBoards.tsx'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'
import { PowerLink } from './PowerLink.tsx'
import { airOf, sinkOf, withCooling, withFinLength } from './powerEdits.ts'
import { RatedSink } from './RatedSink.tsx'

const board = heat.options[1]
const moment = heat.options[2]
const fins = cooling.shape.sink.options[1].shape
const pins = cooling.shape.sink.options[2].shape
const moved = cooling.shape.air.options[1].shape
const fan = cooling.shape.air.options[2].shape.curve.element.shape

const of = (lamp: Lamp): Cooling => coolingOf(lamp).value
const METAL_NAMES = (Object.keys(METALS) as Cooling['plate']['metal'][]).map((key) => ({
  key,
  name: METALS[key].label,
}))

export function HeatPart() {
  const system = useUnitSystem()
  const summary = useDesign((s) => gistOf(s.lamp, system))
  const warnings = useDesign((s) => coolingOf(s.lamp).assumptions.join(' '))
  return (
    <Part of="heat" title="Heat" summary={summary}>
      <PowerLink />
      {warnings && <p className="parts-note">{warnings} An edit here writes it into the lamp.</p>}
      <Plate />
      <Sink />
      <Air />
      <Junctions />
      <HeatBoards />
    </Part>
  )
}

function gistOf(lamp: Lamp, system: UnitSystem): string {
  const { plate, sink } = of(lamp)
  return `${valueText(plate.thicknessMm, 'mm', system)} plate, ${sinkGist(sink)}${lamp.cooling ? '' : ' (typical)'}`
}

function sinkGist(sink: Cooling['sink']): string {
  switch (sink.kind) {
    case 'none':
      return 'no fins'
    case 'fins':
    case 'pins':
      return `${sink.count} ${sink.kind}`
    case 'rated':
      return `sink of ${formatNumber(sink.resistanceKW)} K/W`
  }
}

/** Its resistance holds for the surface, the position and the air of its data sheet; what the lamp says of them does nothing. */
const useRated = () => useDesign((s) => of(s.lamp).sink.kind === 'rated')

function Plate() {
  const rated = useRated()
  return (
    <>
      <LampNumber
        label="Plate, thickness"
        unit="mm"
        step={1}
        of={cooling.shape.plate.shape.thicknessMm}
        description="Spreads the heat and stores it; a thick plate gives a short mode more seconds"
        read={(lamp) => of(lamp).plate.thicknessMm}
        write={(lamp, thicknessMm) => withCooling(lamp, { plate: { ...of(lamp).plate, thicknessMm } })}
      />
      <LampChoice
        label="Plate, metal"
        options={METAL_NAMES}
        description="How fast heat spreads, and how much of it a kilogram stores"
        read={(lamp) => of(lamp).plate.metal}
        write={(lamp, metal) => withCooling(lamp, { plate: { ...of(lamp).plate, metal } })}
      />
      {!rated && <SurfaceAndAim />}
    </>
  )
}

function SurfaceAndAim() {
  return (
    <>
      <LampChoice
        label="Surface"
        options={[
          { key: 'bare', name: 'bare metal' },
          { key: 'anodised', name: 'anodised' },
          { key: 'painted', name: 'painted' },
        ]}
        description="Bare metal hardly radiates; anodised or painted it does"
        read={(lamp) => of(lamp).finish}
        write={(lamp, finish) => withCooling(lamp, { finish })}
      />
      <LampChoice
        label="Lamp points"
        segments
        options={[
          { key: 'level', name: 'level' },
          { key: 'up', name: 'up' },
          { key: 'down', name: 'down' },
        ]}
        description="Most of the time; still air rises along upright fins"
        read={(lamp) => of(lamp).aim}
        write={(lamp, aim) => withCooling(lamp, { aim })}
      />
    </>
  )
}

const FINS = [
  { key: 'count', label: 'Fins', unit: '', step: 1, description: 'More fins give more surface, but narrower channels' },
  { key: 'heightMm', label: 'Fins, height', unit: 'mm', step: 1, description: 'From the plate’s back to the tips' },
  {
    key: 'thicknessMm',
    label: 'Fins, thickness',
    unit: 'mm',
    step: 0.5,
    description: 'Thin fins are cold at their tips',
  },
  {
    key: 'spacingMm',
    label: 'Between fins',
    unit: 'mm',
    step: 0.5,
    description: 'Clear width; too narrow and still air stops',
  },
] as const
const PINS = [
  { key: 'count', label: 'Pins', unit: '', step: 1, description: 'More pins give more surface' },
  { key: 'heightMm', label: 'Pins, height', unit: 'mm', step: 1, description: 'From the plate’s back to the tips' },
  {
    key: 'diameterMm',
    label: 'Pins, diameter',
    unit: 'mm',
    step: 0.5,
    description: 'Thin pins are cold at their tips',
  },
  { key: 'spacingMm', label: 'Between pins', unit: 'mm', step: 0.5, description: 'Clear width between neighbours' },
] as const

function Sink() {
  const kind = useDesign((s) => of(s.lamp).sink.kind)
  return (
    <>
      <LampChoice
        label="On its back"
        segments
        options={[
          { key: 'none', name: 'nothing' },
          { key: 'fins', name: 'fins' },
          { key: 'pins', name: 'pins' },
          { key: 'rated', name: 'rated' },
        ]}
        description="Fins or pins by their size; rated: a bought sink, heat pipes or a water block by its data sheet"
        read={(lamp) => of(lamp).sink.kind}
        write={(lamp, kind) => withCooling(lamp, { sink: sinkOf(kind) })}
      />
      {kind === 'fins' &&
        FINS.map(({ key, ...f }) => (
          <LampNumber
            key={`fins ${key}`}
            {...f}
            of={fins[key]}
            read={(lamp) => finsOf(lamp)?.[key] ?? null}
            write={(lamp, v) => withCooling(lamp, { sink: { ...finsOf(lamp)!, [key]: v } })}
          />
        ))}
      {kind === 'fins' && <FinLength />}
      {kind === 'pins' &&
        PINS.map(({ key, ...f }) => (
          <LampNumber
            key={`pins ${key}`}
            {...f}
            of={pins[key]}
            read={(lamp) => pinsOf(lamp)?.[key] ?? null}
            write={(lamp, v) => withCooling(lamp, { sink: { ...pinsOf(lamp)!, [key]: v } })}
          />
        ))}
      {kind === 'rated' && <RatedSink />}
    </>
  )
}

function FinLength() {
  const own = useDesign((s) => finsOf(s.lamp)?.lengthMm !== undefined)
  return (
    <>
      <LampChoice
        label="Fins, length"
        segments
        description="Along the air; the face's own chord at each fin, or one length for all"
        options={[
          { key: 'face', name: 'as the face' },
          { key: 'own', name: 'given' },
        ]}
        read={(lamp) => (finsOf(lamp)?.lengthMm === undefined ? 'face' : 'own')}
        write={(lamp, key) => withFinLength(lamp, key === 'own' ? lamp.face.sizeMm : null)}
      />
      {own && (
        <LampNumber
          label="Each fin, length"
          unit="mm"
          step={5}
          of={fins.lengthMm.unwrap()}
          description="Along the air"
          read={(lamp) => finsOf(lamp)?.lengthMm ?? null}
          write={(lamp, v) => withFinLength(lamp, v)}
        />
      )}
    </>
  )
}

function finsOf(lamp: Lamp) {
  const { sink } = of(lamp)
  return sink.kind === 'fins' ? sink : null
}
function pinsOf(lamp: Lamp) {
  const { sink } = of(lamp)
  return sink.kind === 'pins' ? sink : null
}

function Air() {
  const rated = useRated()
  return (
    <>
      {!rated && <AirAtFins />}
      <LampNumber
        label="Air around"
        unit="°C"
        step={1}
        of={reading.shape.ambientC}
        description="Warming starts from here"
        read={(lamp) => lamp.reading.ambientC}
        write={(lamp, ambientC) => ({ ...lamp, reading: { ...lamp.reading, ambientC } })}
      />
    </>
  )
}

function AirAtFins() {
  const kind = useDesign((s) => of(s.lamp).air.kind)
  return (
    <>
      <LampChoice
        label="Air at the fins"
        segments
        options={[
          { key: 'still', name: 'still' },
          { key: 'moved', name: 'moved' },
          { key: 'fan', name: 'fan' },
        ]}
        read={(lamp) => of(lamp).air.kind}
        write={(lamp, kind) => withCooling(lamp, { air: airOf(kind) })}
      />
      {kind === 'moved' && (
        <LampNumber
          label="Air, speed"
          unit="m/s"
          step={0.1}
          of={moved.speedMS}
          description="Between the fins, or along the bare plate"
          read={(lamp) => speedOf(lamp)}
          write={(lamp, speedMS) => withCooling(lamp, { air: { kind: 'moved', speedMS } })}
        />
      )}
      {kind === 'fan' && (
        <PairTable
          title="Fan’s curve"
          least={1}
          first={{ key: 'flowM3h', name: 'Flow, m³/h', unit: '', of: fan.flowM3h, step: 5 }}
          second={{ key: 'pascal', name: 'Pressure, Pa', unit: '', of: fan.pascal, step: 5 }}
          add={(rows) => [...rows, { flowM3h: (rows[rows.length - 1]?.flowM3h ?? 0) + 10, pascal: 0 }]}
          read={(lamp) => curveOf(lamp)}
          write={(lamp, curve) => withCooling(lamp, { air: { kind: 'fan', curve } })}
        />
      )}
    </>
  )
}

function speedOf(lamp: Lamp): number | null {
  const { air } = of(lamp)
  return air.kind === 'moved' ? air.speedMS : null
}

const NO_CURVE: never[] = []
function curveOf(lamp: Lamp) {
  const { air } = of(lamp)
  return air.kind === 'fan' ? air.curve : NO_CURVE
}

/** Junction temperature of the traced light. */
function Junctions() {
  const kind = useDesign((s) => s.lamp.heat.kind)
  const names = useDesign((s) => s.lamp.power?.modes)
  return (
    <>
      <LampChoice
        label="Light traced"
        description="Hot emitters give less light: as rated, from the boards' temperature, or as a mode has it at a moment"
        options={[
          { key: 'rated', name: 'junctions as rated' },
          { key: 'board', name: 'from the boards’ warmth' },
          ...(names ? [{ key: 'mode' as const, name: 'at a mode’s moment' }] : []),
        ]}
        read={(lamp) => lamp.heat.kind}
        write={(lamp, kind) => ({ ...lamp, heat: heatOf(lamp, kind) })}
      />
      {kind === 'board' && (
        <LampNumber
          label="Boards run at"
          unit="°C"
          step={1}
          of={board.shape.boardC}
          description="Junctions are hotter than this by their heat and resistance; the flux follows"
          read={(lamp) => (lamp.heat.kind === 'board' ? lamp.heat.boardC : null)}
          write={(lamp, boardC) => ({ ...lamp, heat: { kind: 'board', boardC } })}
        />
      )}
      {kind === 'mode' && names && (
        <>
          <LampChoice
            label="Mode traced"
            options={names.map((m) => ({ key: m.id, name: m.name }))}
            asTyped
            read={(lamp) => (lamp.heat.kind === 'mode' ? lamp.heat.mode : '')}
            write={(lamp, mode) => (lamp.heat.kind === 'mode' ? { ...lamp, heat: { ...lamp.heat, mode } } : lamp)}
          />
          <LampNumber
            label="After switch-on"
            unit="s"
            step={1}
            digits={1}
            of={moment.shape.seconds}
            description="After the mode’s end, as at its end; cut-out and fold-back are taken as failed"
            read={(lamp) => (lamp.heat.kind === 'mode' ? lamp.heat.seconds : null)}
            write={(lamp, seconds) => (lamp.heat.kind === 'mode' ? { ...lamp, heat: { ...lamp.heat, seconds } } : lamp)}
          />
        </>
      )}
    </>
  )
}

function heatOf(lamp: Lamp, kind: Lamp['heat']['kind']): Lamp['heat'] {
  if (kind === 'rated') return { kind }
  if (kind === 'board') return { kind, boardC: 60 }
  return { kind, mode: powerOf(lamp).value.modes[0]!.id, seconds: 30 }
}

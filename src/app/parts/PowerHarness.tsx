// Wires, fuses, connectors, contactor.
import { gauge, harness } from '../../lamp/power.ts'
import type { Harness, Power } from '../../lamp/schema.ts'
import { gaugeAreaMm2 } from '../../power/wire.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { ChannelLengths } from './ChannelLengths.tsx'
import { Part } from './Part.tsx'
import { gaugeOf, without, withPower } from './powerEdits.ts'
import { PowerChoice, PowerNumber, usePowerValue } from './powerFields.tsx'

const of = harness.shape
type RunName = 'main' | 'channel' | 'board'
const RUNS: readonly { key: RunName; title: string }[] = [
  { key: 'main', title: 'Supply to branching place' },
  { key: 'channel', title: 'There to each driver' },
  { key: 'board', title: 'Driver to its boards' },
]

const CONTACTS = [
  { key: 'connectorMaxA', label: 'Connectors, at most', unit: 'A', of: of.connectorMaxA.unwrap() },
  { key: 'connectorMaxV', label: 'Connectors, volts DC', unit: 'V', of: of.connectorMaxV.unwrap() },
] as const

const withHarness = (p: Power, part: Partial<Harness>): Power => ({ ...p, harness: { ...p.harness, ...part } })
const withRun = (p: Power, run: RunName, part: object): Power =>
  withHarness(p, { [run]: { ...p.harness[run], ...part } })

export function PowerHarness() {
  return (
    <Part of="power-wires" title="Wires and fuses" level={3} edits="Wires">
      {RUNS.map((r) => (
        <Run key={r.key} run={r.key} title={r.title} />
      ))}
      <ChannelLengths />
      <PowerNumber
        label="Each contact"
        unit="mΩ"
        step={0.5}
        of={of.connectorMilliohm}
        description="Resistance of one pair of contacts"
        get={(p) => p.harness.connectorMilliohm}
        set={(p, connectorMilliohm) => withHarness(p, { connectorMilliohm })}
      />
      {CONTACTS.map(({ key, ...f }) => (
        <PowerNumber
          key={key}
          {...f}
          step={1}
          whenEmpty="not named"
          get={(p) => p.harness[key] ?? null}
          set={(p, v) => withHarness(p, { [key]: v })}
          clear={(p) => ({ ...p, harness: without(p.harness, key) })}
        />
      ))}
      <PowerNumber
        label="Drop allowed"
        unit="share"
        step={0.01}
        of={of.allowedDrop}
        description="Share of the supply’s voltage that the wires may cost"
        get={(p) => p.harness.allowedDrop}
        set={(p, allowedDrop) => withHarness(p, { allowedDrop })}
      />
      <PowerChoice
        label="Insulation bears"
        segments
        options={[
          { key: '60', name: '60 °C' },
          { key: '75', name: '75 °C' },
          { key: '90', name: '90 °C' },
        ]}
        get={(p) => String(p.harness.insulationC) as '60' | '75' | '90'}
        set={(p, key) => withHarness(p, { insulationC: Number(key) as 60 | 75 | 90 })}
      />
      <Contactor />
    </Part>
  )
}

function Run({ run, title }: { run: RunName; title: string }) {
  const { gauge: shown } = usePowerValue().harness[run]
  return (
    <fieldset className="parts-item">
      <legend>{title}</legend>
      <PowerChoice
        label="Wire by"
        segments
        options={[
          { key: 'awg', name: 'AWG' },
          { key: 'mm2', name: 'mm²' },
        ]}
        get={(p) => p.harness[run].gauge.system}
        set={(p, system) => {
          const from = p.harness[run].gauge
          return withRun(p, run, { gauge: gaugeOf(system, from, gaugeAreaMm2(from)) })
        }}
      />
      {shown.system === 'awg' ? (
        <PowerNumber
          label="AWG number"
          unit=""
          step={1}
          of={gauge.options[0].shape.number}
          description="Smaller is thicker; 0 is 1/0, −3 is 4/0"
          get={(p) => gaugeNumber(p, run)}
          set={(p, number) => withRun(p, run, { gauge: { system: 'awg', number } })}
        />
      ) : (
        <PowerNumber
          label="Copper"
          unit="mm²"
          step={0.25}
          of={gauge.options[1].shape.mm2}
          get={(p) => gaugeNumber(p, run)}
          set={(p, mm2) => withRun(p, run, { gauge: { system: 'mm2', mm2 } })}
        />
      )}
      <PowerNumber
        label="One way"
        unit="mm"
        step={50}
        of={of.board.shape.lengthMm}
        description="Length; the current goes out and comes back"
        get={(p) => p.harness[run].lengthMm}
        set={(p, lengthMm) => withRun(p, run, { lengthMm })}
      />
      <PowerNumber
        label="Connectors"
        unit=""
        step={1}
        of={of.board.shape.connectors}
        description="That the current passes on its way out"
        get={(p) => p.harness[run].connectors}
        set={(p, connectors) => withRun(p, run, { connectors })}
      />
      <PowerNumber
        label="In one bundle"
        unit=""
        step={2}
        of={of.board.shape.bundled.unwrap()}
        description="Conductors that carry current and lie together, this run’s own two counted"
        whenEmpty="its own two alone"
        get={(p) => p.harness[run].bundled ?? null}
        set={(p, bundled) => withRun(p, run, { bundled })}
        clear={(p) => withHarness(p, { [run]: without(p.harness[run], 'bundled') })}
      />
      <PowerNumber
        label="Own insulation"
        unit="°C"
        step={5}
        of={of.board.shape.insulationC.unwrap()}
        description="Temperature that this run’s insulation bears, where it differs from the others’"
        whenEmpty="as the others"
        get={(p) => p.harness[run].insulationC ?? null}
        set={(p, insulationC) => withRun(p, run, { insulationC })}
        clear={(p) => withHarness(p, { [run]: without(p.harness[run], 'insulationC') })}
      />
      {run !== 'board' && <Fuse run={run} />}
    </fieldset>
  )
}

const gaugeNumber = (p: Power, run: RunName): number => {
  const g = p.harness[run].gauge
  return g.system === 'awg' ? g.number : g.mm2
}

const fuse = of.main.shape.fuse.unwrap().shape
const FUSE = [
  { key: 'amps', label: 'Fuse, current', unit: 'A', of: fuse.amps },
  { key: 'volts', label: 'Fuse, voltage', unit: 'V', of: fuse.volts },
  { key: 'breaksA', label: 'Fuse, breaks', unit: 'A', of: fuse.breaksA.unwrap() },
] as const

const KINDS: { key: NonNullable<NonNullable<Harness['main']['fuse']>['kind']> | 'unnamed'; name: string }[] = [
  { key: 'unnamed', name: 'not named' },
  { key: 'blade', name: 'blade (ISO 8820-3)' },
  { key: 'gG', name: 'gG (IEC 60269)' },
  { key: 'miniature', name: 'miniature (IEC 60127)' },
  { key: 'UL 248', name: 'UL 248' },
]

function Fuse({ run }: { run: 'main' | 'channel' }) {
  const has = usePowerValue().harness[run].fuse !== null
  const set = (label: string, value: Harness['main']['fuse']) =>
    tryEdit(design, label, (lamp) => withPower(lamp, (p) => withRun(p, run, { fuse: value })))
  return (
    <>
      <Toggle
        label="Fuse"
        value={has}
        description="A short circuit without one sets the wire on fire"
        onChange={(on) => set(on ? 'Wires: fuse' : 'Wires: no fuse', on ? { amps: 10, volts: 58 } : null)}
      />
      {has && (
        <PowerChoice
          label="Fuse, kind"
          options={KINDS}
          description="Says from which current on it opens; not named: a blade fuse is taken"
          get={(p) => p.harness[run].fuse?.kind ?? 'unnamed'}
          set={(p, key) => {
            const { fuse: had } = p.harness[run]
            if (!had) return p
            return withRun(p, run, { fuse: key === 'unnamed' ? without(had, 'kind') : { ...had, kind: key } })
          }}
        />
      )}
      {has &&
        FUSE.map(({ key, ...f }) => (
          <PowerNumber
            key={key}
            {...f}
            step={1}
            whenEmpty="not named"
            get={(p) => p.harness[run].fuse?.[key] ?? null}
            set={(p, v) => {
              const { fuse: had } = p.harness[run]
              return had ? withRun(p, run, { fuse: { ...had, [key]: v } }) : p
            }}
            {...(key === 'breaksA'
              ? {
                  clear: (p: Power) => {
                    const { fuse: had } = p.harness[run]
                    return had ? withRun(p, run, { fuse: without(had, key) }) : p
                  },
                }
              : {})}
          />
        ))}
    </>
  )
}

const contactor = of.contactor.unwrap().shape
const CONTACTOR = [
  { key: 'maxA', label: 'Contactor, at most', unit: 'A', step: 1, of: contactor.maxA },
  { key: 'milliohm', label: 'Contactor, contact', unit: 'mΩ', step: 0.1, of: contactor.milliohm },
  { key: 'maxV', label: 'Contactor, volts DC', unit: 'V', step: 1, of: contactor.maxV.unwrap() },
  { key: 'breaksA', label: 'Contactor, breaks', unit: 'A', step: 10, of: contactor.breaksA.unwrap() },
  { key: 'makesA', label: 'Contactor, makes', unit: 'A', step: 10, of: contactor.makesA.unwrap() },
  { key: 'prechargeOhm', label: 'Pre-charge, Ω', unit: '', step: 1, of: contactor.prechargeOhm.unwrap() },
] as const

function Contactor() {
  const has = usePowerValue().harness.contactor !== null
  return (
    <>
      <Toggle
        label="Contactor or relay"
        value={has}
        onChange={(on) =>
          tryEdit(design, on ? 'Wires: contactor' : 'Wires: no contactor', (lamp) =>
            withPower(lamp, (p) => withHarness(p, { contactor: on ? { maxA: 50, milliohm: 0.5 } : null })),
          )
        }
      />
      {has &&
        CONTACTOR.map(({ key, ...f }) => (
          <PowerNumber
            key={key}
            {...f}
            whenEmpty={key === 'prechargeOhm' ? 'none' : 'not named'}
            get={(p) => p.harness.contactor?.[key] ?? null}
            set={(p, v) => {
              const { contactor: had } = p.harness
              return had ? withHarness(p, { contactor: { ...had, [key]: v } }) : p
            }}
            {...(key === 'maxA' || key === 'milliohm'
              ? {}
              : {
                  clear: (p: Power) => {
                    const { contactor: had } = p.harness
                    return had ? withHarness(p, { contactor: without(had, key) }) : p
                  },
                })}
          />
        ))}
    </>
  )
}

// Electrical supply: supply, drivers, groups of boards, wires, modes.
import { power as schema, supply } from '../../lamp/power.ts'
import type { Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { formatNumber, type Unit } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { Part } from './Part.tsx'
import { PowerDrivers } from './PowerDrivers.tsx'
import { PowerHarness } from './PowerHarness.tsx'
import { PowerLink } from './PowerLink.tsx'
import { PowerModes } from './PowerModes.tsx'
import { PowerProtection } from './PowerProtection.tsx'
import { supplyOf, without } from './powerEdits.ts'
import { PowerChoice, PowerNumber, PowerText } from './powerFields.tsx'

export function PowerPart() {
  const summary = useDesign((s) => `${supplyGist(powerOf(s.lamp).value)}${s.lamp.power ? '' : ' (typical)'}`)
  const warnings = useDesign((s) => powerOf(s.lamp).assumptions.join(' '))
  return (
    <Part of="power" title="Power" summary={summary}>
      <PowerLink />
      {warnings && <p className="parts-note">{warnings} An edit here writes it into the lamp.</p>}
      <Supply />
      <PowerDrivers />
      <PowerModes />
      <PowerProtection />
      <PowerHarness />
    </Part>
  )
}

function supplyGist({ supply: s, modes }: Power): string {
  const what = s.kind === 'pack' ? `pack ${s.series} s ${s.parallel} p` : `${formatNumber(s.volts)} V`
  return `${what}, ${modes.length} ${modes.length === 1 ? 'mode' : 'modes'}`
}

const pack = supply.options[0].shape
const fixed = supply.options[1].shape
type Pack = Extract<Power['supply'], { kind: 'pack' }>
type Fixed = Extract<Power['supply'], { kind: 'fixed' }>
type Row<K> = { key: K; label: string; unit: Unit; step: number; description?: string }

const PACK: readonly Row<Exclude<keyof Pack, 'kind' | 'name' | 'chemistry' | 'protectionA'>>[] = [
  { key: 'series', label: 'Cells in series', unit: '', step: 1, description: 'Gives the voltage' },
  { key: 'parallel', label: 'Cells in parallel', unit: '', step: 1, description: 'Gives capacity and current' },
  { key: 'cellAh', label: 'One cell holds', unit: 'Ah', step: 0.1 },
  { key: 'cellMilliohm', label: 'One cell, resistance', unit: 'mΩ', step: 1, description: 'Warm and about half full' },
  {
    key: 'cellGram',
    label: 'One cell weighs',
    unit: 'g',
    step: 1,
    description: 'Its mass stores the heat of its own losses',
  },
  {
    key: 'maxCellA',
    label: 'One cell, at most',
    unit: 'A',
    step: 1,
    description: 'Lasting current that a cell may give',
  },
  { key: 'maxCellC', label: 'Cells, at most', unit: '°C', step: 1, description: 'Ends a mode when reached' },
  {
    key: 'cutOffCellV',
    label: 'Cut-off, each cell',
    unit: 'V',
    step: 0.1,
    description: 'The pack counts as empty here',
  },
  { key: 'charged', label: 'Charged', unit: 'share', step: 0.05, description: 'At switch-on' },
]
const FIXED: readonly Row<Exclude<keyof Fixed, 'kind' | 'name' | 'shortA'>>[] = [
  { key: 'volts', label: 'Voltage', unit: 'V', step: 1 },
  { key: 'milliohm', label: 'Resistance', unit: 'mΩ', step: 1, description: 'Its voltage sags by this under load' },
  { key: 'maxA', label: 'At most', unit: 'A', step: 1 },
]

function Supply() {
  const kind = useDesign((s) => powerOf(s.lamp).value.supply.kind)
  const withSupply = (p: Power, part: object): Power => ({ ...p, supply: { ...p.supply, ...part } as Power['supply'] })
  return (
    <Part of="power-supply" title="Supply" summary={kind === 'pack' ? 'battery pack' : 'fixed'} level={3}>
      <PowerChoice
        label="Kind"
        segments
        options={[
          { key: 'pack', name: 'pack' },
          { key: 'fixed', name: 'fixed' },
        ]}
        description="A pack runs empty and sags; a fixed supply does not"
        get={(p) => p.supply.kind}
        set={(p, key) => ({ ...p, supply: supplyOf(key, p) })}
      />
      <PowerText label="Name" get={(p) => p.supply.name} set={(p, name) => withSupply(p, { name })} />
      {kind === 'pack' && (
        <PowerChoice
          label="Chemistry"
          options={[
            { key: 'li-ion', name: 'lithium-ion' },
            { key: 'lifepo4', name: 'lithium iron phosphate' },
            { key: 'nimh', name: 'nickel-metal hydride' },
            { key: 'lead-acid', name: 'lead-acid' },
          ]}
          description="Voltage over charge: a typical curve of the chemistry"
          get={(p) => (p.supply.kind === 'pack' ? p.supply.chemistry : 'li-ion')}
          set={(p, chemistry) => withSupply(p, { chemistry })}
        />
      )}
      {kind === 'pack' &&
        PACK.map(({ key, ...f }) => (
          <PowerNumber
            key={key}
            {...f}
            of={pack[key]}
            get={(p) => (p.supply.kind === 'pack' ? p.supply[key] : null)}
            set={(p, v) => withSupply(p, { [key]: v })}
          />
        ))}
      {kind === 'fixed' &&
        FIXED.map(({ key, ...f }) => (
          <PowerNumber
            key={key}
            {...f}
            of={fixed[key]}
            get={(p) => (p.supply.kind === 'fixed' ? p.supply[key] : null)}
            set={(p, v) => withSupply(p, { [key]: v })}
          />
        ))}
      {kind === 'pack' ? (
        <PowerNumber
          label="Protection lets through"
          unit="A"
          step={1}
          of={pack.protectionA.unwrap()}
          description="Lasting current at which the protection board doesn’t open yet"
          whenEmpty="not named"
          get={(p) => (p.supply.kind === 'pack' ? (p.supply.protectionA ?? null) : null)}
          set={(p, protectionA) => withSupply(p, { protectionA })}
          clear={(p) => (p.supply.kind === 'pack' ? { ...p, supply: without(p.supply, 'protectionA') } : p)}
        />
      ) : (
        <PowerNumber
          label="Into a short circuit"
          unit="A"
          step={1}
          of={fixed.shortA.unwrap()}
          description="Fuses must be able to break it"
          whenEmpty="not named"
          get={(p) => (p.supply.kind === 'fixed' ? (p.supply.shortA ?? null) : null)}
          set={(p, shortA) => withSupply(p, { shortA })}
          clear={(p) => (p.supply.kind === 'fixed' ? { ...p, supply: without(p.supply, 'shortA') } : p)}
        />
      )}
      <PowerNumber
        label="Coldest air"
        unit="°C"
        step={5}
        of={schema.shape.coldestC.unwrap()}
        description="In which the lamp is switched on"
        whenEmpty="not named; −20 is taken"
        get={(p) => p.coldestC ?? null}
        set={(p, coldestC) => ({ ...p, coldestC })}
        clear={(p) => without(p, 'coldestC')}
      />
    </Part>
  )
}

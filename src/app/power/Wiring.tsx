// The wiring as a diagram and as a table, each part with what was found about it.

import { useMemo } from 'react'
import type { SwitchNeed, WireRun } from '../../electrothermal/result.ts'
import type { Driver, Power } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { gaugeInEither } from '../../library/wireGauge.ts'
import { inSystem } from '../../num/quantity.ts'
import { roundedDown, roundedUp } from '../../num/sided.ts'
import { M_PER_FOOT, type UnitSystem } from '../../num/unitSystem.ts'
import { GROUP_NOTE, groupRows } from '../../report/wiringCells.ts'
import { billOfMaterials, type Remark, remarksOn, type WiringRow, wiringRows } from '../../report/wiringTable.ts'
import { type WorstRow, worstRows } from '../../report/worstTable.ts'
import { formatValue, THIN, toDigits } from '../common/format.ts'
import { missingFindings, missingPartOf, useMissing } from '../store/missing.ts'
import { usePower } from '../store/power.ts'
import { usePowerFindings } from '../store/severe.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { type Column, Table } from '../ui/Table.tsx'
import { printPanel } from './printPanel.ts'
import { Remarks } from './Remarks.tsx'
import { saveWiring } from './saveWiring.ts'
import { WiringPicture } from './WiringPicture.tsx'

const unit = (value: number, of: string) => `${toDigits(value)}${THIN}${of}`
/** What flows, drops or is needed, rounded up; what is borne, rounded down. */
const up = (value: number, of: string, digits = 3) => `${toDigits(roundedUp(value, digits), digits)}${THIN}${of}`
const down = (value: number, of: string, digits = 3) => `${toDigits(roundedDown(value, digits), digits)}${THIN}${of}`

const columnsIn = (system: UnitSystem): readonly Column<WiringRow>[] => [
  { key: 'from', name: 'From', of: (r) => r.from, words: true, heading: true },
  { key: 'to', name: 'To', of: (r) => r.to, words: true },
  { key: 'count', name: 'Count', of: (r) => `×${r.count}` },
  {
    key: 'gauge',
    name: 'Gauge',
    of: ({ run }) => `${inSystem(gaugeInEither(run.gaugeWords), system)}${run.conductors === 1 ? ', alone' : ''}`,
    words: true,
  },
  { key: 'length', name: 'One way', of: ({ run }) => formatValue(run.lengthMm, 'mm', 4, system) },
  {
    key: 'plus',
    name: 'Plus, minus',
    of: ({ run }) => (run.conductors === 2 ? `${run.plus}, ${run.minus}` : run.plus),
    words: true,
  },
  { key: 'amps', name: 'Current', of: ({ run }) => up(run.amps, 'A') },
  { key: 'bears', name: 'Bears', of: ({ run }) => down(run.bearsA, 'A', 2) },
  { key: 'drop', name: 'Drop', of: ({ run }) => up(run.dropV, 'V', 2) },
  { key: 'fuse', name: 'Fuse', of: ({ run }) => fuseWords(run), words: true },
  {
    key: 'worst',
    name: 'Worst in',
    of: ({ run }) => (run.mode === '' ? '–' : `${run.mode}, ${unit(run.terminalV, 'V')}`),
    words: true,
  },
]

const SWITCH_COLUMNS: readonly Column<SwitchNeed>[] = [
  { key: 'mode', name: 'Main switch in', of: (s) => s.mode, words: true, heading: true },
  { key: 'amps', name: 'Current', of: (s) => up(s.amps, 'A') },
  { key: 'volts', name: 'To break', of: (s) => up(s.volts, 'V') },
  { key: 'rating', name: 'Rated at least', of: (s) => `${up(s.ratingA, 'A')} direct current` },
]

const DRIVER_COLUMNS: readonly Column<Driver>[] = [
  { key: 'name', name: 'Driver', of: (d) => d.name, words: true, heading: true },
  { key: 'kind', name: 'Kind', of: (d) => d.kind, words: true },
  { key: 'in', name: 'Input', of: (d) => `${toDigits(roundedUp(d.inputMinV))} to ${down(d.inputMaxV, 'V')}` },
  { key: 'out', name: 'Gives at most', of: (d) => down(d.maxOutputA, 'A') },
]

const WORST_COLUMNS: readonly Column<WorstRow>[] = [
  { key: 'what', name: 'What', of: (r) => r.what, words: true, heading: true },
  { key: 'value', name: 'Worst', of: (r) => r.value },
  { key: 'limit', name: 'Bears', of: (r) => r.limit || '–' },
  { key: 'where', name: 'In', of: (r) => r.where, words: true },
]

/** A length to buy, m, so that its three digits in the shown unit are enough. */
const metresUp = (m: number, system: UnitSystem) =>
  system === 'inch' ? roundedUp(m / M_PER_FOOT) * M_PER_FOOT : roundedUp(m)

function fuseWords({ fuse, fuseRange }: WireRun): string {
  if (fuse) return `${toDigits(fuse.amps)}${THIN}A, ${toDigits(fuse.volts)}${THIN}V${fuse.kind ? `, ${fuse.kind}` : ''}`
  if (!fuseRange) return '–'
  return fuseRange.fitsA ? `none; ${toDigits(fuseRange.fitsA)}${THIN}A would do` : 'none; needs thicker wire'
}

const below = (remarks: readonly Remark[]) => (remarks.length > 0 ? <Remarks remarks={remarks} /> : null)

export function Wiring() {
  const report = usePower((s) => s.report)
  const findings = usePowerFindings()
  const system = useUnitSystem()
  const failed = usePower((s) => s.why !== '')
  const remark = useMissing((s) => missingFindings(s).find((f) => missingPartOf(f) === 'heat')?.title)
  const lamp = useDesign((s) => s.lamp)
  const power = useMemo(() => powerOf(lamp).value, [lamp])
  const rows = useMemo(() => (report ? wiringRows(report.wiring, power, findings) : []), [report, power, findings])
  if (!report) return null
  const switchRemarks = remarksOn(findings, [{ kind: 'contactor' }])
  return (
    <div className="power-wiring">
      <WiringPicture wiring={report.wiring} groups={report.groups} rows={rows} system={system} />
      <div className="power-part-head">
        <h3>Schedule of wires</h3>
        <div className="power-buttons">
          <Button
            kind="quiet"
            hint="Every run with its numbers, for a spreadsheet"
            onPress={() => saveWiring(rows, remark ? [remark] : [], system)}
          >
            CSV
          </Button>
          <Button kind="quiet" onPress={printPanel}>
            Print
          </Button>
        </div>
      </div>
      {failed && (
        <p className="power-caution">
          The run failed: these are the numbers of the lamp before, and what is wrong with its parts is missing.
        </p>
      )}
      <Table
        caption="Wires: from where to where, how many, gauge, length, colours, current, what they bear, drop, fuse"
        columns={columnsIn(system)}
        rows={rows}
        rowKey={(r) => r.run.id}
        below={(r) => below(r.remarks)}
      />
      <div className="power-switches">
        <Table
          caption="Drivers"
          columns={DRIVER_COLUMNS}
          rows={power.drivers}
          rowKey={(d) => d.id}
          below={(d) => below(remarksOn(findings, [{ kind: 'driver', id: d.id }]))}
        />
        <Table
          caption="Contactor, relay or switch in the main wire, by mode"
          columns={SWITCH_COLUMNS}
          rows={report.switching}
          rowKey={(s) => s.modeId}
          below={(s) => (s === report.switching[0] ? below(switchRemarks) : null)}
        />
      </div>
      <Groups />
      <Bill wiring={report.wiring} power={power} />
      <details className="power-worst" open>
        <summary>The worst of every mode, from full to cut-off, cold to hot</summary>
        <Table
          caption="Worst case of supply, drivers and emitters, and where it occurs"
          columns={WORST_COLUMNS}
          rows={worstRows(report, system)}
          rowKey={(r) => r.what}
        />
      </details>
      <p className="power-quiet">
        Each run is a pair, but for what says “alone”. The largest currents that last, from full to cut-off, cold to
        hot, in any mode; a main switch by the standard ratings of IEC 60059, a quarter over its load. Drop out and
        back, as warm as the insulation bears. Fuse every channel, and the battery at its own terminals. Local codes and
        licensed practice come first.
      </p>
    </div>
  )
}

/** Each group by mode, and what switches it. */
function Groups() {
  const groups = usePower((s) => s.report?.groups)
  const findings = usePowerFindings()
  const table = useMemo(() => (groups ? groupRows({ groups }) : { head: [], rows: [] }), [groups])
  if (!groups || table.rows.length === 0) return null
  const columns = table.head.map(
    (name, i): Column<string[]> => ({
      ...{ key: `${i}`, name, of: (r) => r[i], words: i === 0, heading: i === 0 },
    }),
  )
  return (
    <section className="power-switches" aria-labelledby="power-by-group">
      <h3 id="power-by-group">Groups of boards, by mode</h3>
      <Table
        caption="Groups of boards: current in each mode, voltage to break, rating of the relay"
        columns={columns}
        rows={table.rows}
        rowKey={(_, i) => groups[i]?.id ?? i}
        below={(r) => below(remarksOn(findings, [{ kind: 'relay', id: groups[table.rows.indexOf(r)]?.id ?? '' }]))}
      />
      <p className="power-quiet">{GROUP_NOTE}</p>
    </section>
  )
}

function Bill({ wiring, power }: { wiring: readonly WireRun[]; power: Power }) {
  const findings = usePowerFindings()
  const system = useUnitSystem()
  return (
    <section className="power-buy" aria-labelledby="power-buy-title">
      <h3 id="power-buy-title">To buy, without spare</h3>
      <ul>
        {billOfMaterials(wiring, power, findings, system).map((b) => (
          <li key={b.what} data-remarks={b.remarks.length > 0 || undefined}>
            {b.what} <b>{b.unit === 'm' ? formatValue(metresUp(b.amount, system), 'm', 3, system) : b.amount}</b>
            {below(b.remarks)}
          </li>
        ))}
      </ul>
    </section>
  )
}

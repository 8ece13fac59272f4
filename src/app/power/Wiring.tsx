// The wiring as a diagram and as a table.
import type { SwitchNeed, WireRun } from '../../electrothermal/result.ts'
import { billOfMaterials } from '../../report/wiringTable.ts'
import { THIN, toDigits } from '../common/format.ts'
import { usePower } from '../store/power.ts'
import { Button } from '../ui/Button.tsx'
import { type Column, Table } from '../ui/Table.tsx'
import { printPanel } from './printPanel.ts'
import { saveWiring } from './saveWiring.ts'
import { WiringPicture } from './WiringPicture.tsx'

const unit = (value: number, of: string, digits = 3) => `${toDigits(value, digits)}${THIN}${of}`

const COLUMNS: readonly Column<WireRun>[] = [
  { key: 'from', name: 'From', of: (w) => w.from, words: true, heading: true },
  { key: 'to', name: 'To', of: (w) => w.to, words: true },
  { key: 'gauge', name: 'Gauge', of: (w) => w.gaugeWords, words: true },
  { key: 'length', name: 'One way', of: (w) => unit(w.lengthMm, 'mm', 4) },
  { key: 'plus', name: 'Plus, minus', of: (w) => `${w.plus}, ${w.minus}`, words: true },
  { key: 'amps', name: 'Current', of: (w) => unit(w.amps, 'A') },
  { key: 'drop', name: 'Drop', of: (w) => unit(w.dropV, 'V', 2) },
  { key: 'fuse', name: 'Fuse', of: fuseWords, words: true },
]

const SWITCH_COLUMNS: readonly Column<SwitchNeed>[] = [
  { key: 'mode', name: 'Main switch in', of: (s) => s.mode, words: true, heading: true },
  { key: 'amps', name: 'Current', of: (s) => unit(s.amps, 'A') },
  { key: 'volts', name: 'To break', of: (s) => unit(s.volts, 'V') },
  { key: 'rating', name: 'Rated at least', of: (s) => `${unit(s.ratingA, 'A')} direct current` },
]

function fuseWords({ fuse, fuseRange }: WireRun): string {
  if (fuse) return `${toDigits(fuse.amps)}${THIN}A, ${toDigits(fuse.volts)}${THIN}V`
  if (!fuseRange) return '–'
  return fuseRange.fitsA ? `none; ${toDigits(fuseRange.fitsA)}${THIN}A would do` : 'none; needs thicker wire'
}

export function Wiring() {
  const report = usePower((s) => s.report)
  if (!report) return null
  return (
    <div className="power-wiring">
      <WiringPicture wiring={report.wiring} />
      <div className="power-part-head">
        <h3>Schedule of wires</h3>
        <div className="power-buttons">
          <Button
            kind="quiet"
            hint="Every run with its numbers, for a spreadsheet"
            onPress={() => saveWiring(report.wiring)}
          >
            CSV
          </Button>
          <Button kind="quiet" onPress={printPanel}>
            Print
          </Button>
        </div>
      </div>
      <Table
        caption="Wires: from where to where, gauge, length, colours, current, drop, fuse"
        columns={COLUMNS}
        rows={report.wiring}
        rowKey={(w) => w.id}
      />
      <div className="power-switches">
        <Table
          caption="Contactor, relay or switch in the main wire, by mode"
          columns={SWITCH_COLUMNS}
          rows={report.switching}
          rowKey={(s) => s.modeId}
        />
      </div>
      <section className="power-buy" aria-labelledby="power-buy-title">
        <h3 id="power-buy-title">To buy, without spare</h3>
        <ul>
          {billOfMaterials(report.wiring).map((b) => (
            <li key={b.what}>
              {b.what} <b>{b.unit === 'm' ? `${toDigits(b.amount)}${THIN}m` : b.amount}</b>
            </li>
          ))}
        </ul>
      </section>
      <p className="power-quiet">
        Each run is a pair. Currents at the emptiest supply; a main switch by the standard ratings of IEC 60059, a
        quarter over its load. Drop out and back, as warm as the insulation bears. Fuse every channel, and the battery
        at its own terminals. Local codes and licensed practice come first.
      </p>
    </div>
  )
}

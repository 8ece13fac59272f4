// lampwright wiring: channels, drivers, fuses and wires as a table, CSV or JSON, each with what was found about it.

import { type Finding, findingsIn } from '../checks/finding.ts'
import { counted } from '../checks/words.ts'
import type { PowerReport } from '../electrothermal/result.ts'
import { retainedByPilot } from '../job/beam/retainedLight.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import type { Driver, Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { allInSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import {
  billCells,
  driverCells,
  GROUP_NOTE,
  groupRows,
  SWITCH_HEAD,
  shortWords,
  switchRows,
  WIRE_HEAD,
  wireCells,
} from '../report/wiringCells.ts'
import {
  billOfMaterials,
  type Remark,
  remarksOn,
  remarkWords,
  type WiringRow,
  wiringCsv,
  wiringRows,
} from '../report/wiringTable.ts'
import { worstRows } from '../report/worstTable.ts'
import { findingsText } from './findingsText.ts'
import { columns, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { VERSION } from './version.ts'

export const WIRING_OPTIONS = {
  csv: { type: 'boolean' },
  json: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const WIDTH = 96

export async function wiringCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const json = parsed.flags.has('json')
  const system = json ? 'metric' : unitsOf(parsed)
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'wiring'))
  // Every mode is run: what a lead bears hangs on how hot the plate gets.
  const report = runPower(lamp, { retained: lamp.boards.length > 0 ? retainedByPilot(lamp) : null })
  const findings = findingsIn(powerFindings(lamp, report), system)
  const power = powerOf(lamp).value
  const rows = wiringRows(report.wiring, power, findings)
  if (json) io.out(`${JSON.stringify(wiringJson(lamp, report, rows, findings))}\n`)
  else
    io.out(
      parsed.flags.has('csv') ? wiringCsv(rows, [], '.', system) : wiringText(lamp, report, rows, findings, system),
    )
  io.err(severeLine(findings.filter((f) => f.parts)))
  return EXIT.fine
}

function wiringJson(lamp: Lamp, report: PowerReport, rows: readonly WiringRow[], findings: readonly Finding[]) {
  const power = powerOf(lamp).value
  const { worst, faults, inrush, wiring, switching, assumed } = report
  return {
    version: VERSION,
    lamp: lamp.name,
    assumed: allInSystem(assumed, 'metric'),
    drivers: power.drivers.map((d) => ({ ...d, remarks: driverRemarks(d, findings) })),
    worst,
    faults,
    inrush,
    wiring,
    rows: rows.map(({ run, ...row }) => ({ ...row, run: run.id })),
    switching,
    bill: billOfMaterials(wiring, power, findings),
    findings,
  }
}

const driverRemarks = ({ id }: Driver, findings: readonly Finding[]): Remark[] =>
  remarksOn(findings, [{ kind: 'driver', id }])

const safe = (row: readonly string[]): string[] => row.map(stripControls)

/** Rows of a table, each followed by what was found about it. */
const withRemarks = (table: readonly string[], remarks: readonly (readonly Remark[])[]): string[] =>
  table.flatMap((line, i) => [
    `  ${line}`,
    ...(remarks[i] ?? []).map((r) => `      ${wrapped(stripControls(remarkWords(r)), WIDTH, '        ')}`),
  ])

function groupLines(report: PowerReport, findings: readonly Finding[]): string[] {
  const { head, rows } = groupRows(report)
  if (rows.length === 0) return []
  const right = head.map((_, i) => i).slice(1)
  return [
    'Groups of boards, for direct current',
    ...withRemarks(columns([head, ...rows].map(safe), right), [
      [],
      ...report.groups.map((g) => remarksOn(findings, [{ kind: 'relay', id: g.id }])),
    ]),
    wrapped(GROUP_NOTE, WIDTH, ''),
    '',
  ]
}

function wiringText(
  lamp: Lamp,
  report: PowerReport,
  rows: readonly WiringRow[],
  findings: readonly Finding[],
  system: UnitSystem,
): string {
  const power = powerOf(lamp).value
  const drivers = power.drivers.map((d) => safe(driverCells(d)))
  const bill = billOfMaterials(report.wiring, power, findings, system)
  const totals = bill.map((b) => safe(billCells(b, system)))
  const listed = findings.filter((f) => f.parts)
  const lines = [
    stripControls(lamp.name),
    `${counted(report.emitters, 'emitter')} on ${counted(report.channelCount, 'channel')}; supply: ${stripControls(power.supply.name)}`,
    ...report.assumed.filter((s) => /supply/.test(s)).map((s) => `Taken as typical: ${stripControls(s)}`),
    shortWords(report),
    '',
    'Drivers',
    ...withRemarks(
      columns(drivers),
      power.drivers.map((d) => driverRemarks(d, findings)),
    ),
    '',
    'Wires (length one way; each run is a pair unless it says “alone”; the largest currents that last from full to',
    'cut-off, cold to hot, in any mode; drop as warm as the insulation bears)',
    ...withRemarks(columns([WIRE_HEAD, ...rows.map((r) => safe(wireCells(r, system)))], [0, 4, 5, 6, 7]), [
      [],
      ...rows.map((r) => r.remarks),
    ]),
    '',
    'Contactor, relay or switch in the main wire, for direct current',
    ...withRemarks(
      columns([SWITCH_HEAD, ...switchRows(power.harness.contactor?.maxA ?? null, report).map(safe)], [1, 2, 3]),
      [remarksOn(findings, [{ kind: 'contactor' }])],
    ),
    '',
    ...groupLines(report, findings),
    ...worstLines(report, system),
    'To buy, without spare; wire as single conductors',
    ...withRemarks(
      columns(totals, [1]),
      bill.map((b) => b.remarks),
    ),
    '',
    ...(listed.length > 0 ? ['What was found about these parts', findingsText(listed), ''] : []),
    wrapped(
      'Fuse every channel, and the battery at its own terminals. Local codes and licensed practice come first.',
      WIDTH,
      '',
    ),
  ]
  return `${lines.join('\n')}\n`
}

function worstLines(report: PowerReport, system: UnitSystem): string[] {
  const rows = worstRows(report, system)
  if (rows.length === 0) return []
  const cells = rows.map((r) => [stripControls(r.what), r.value, r.limit, stripControls(r.where)])
  const head = ['', 'worst', 'bears', 'in']
  return [
    'The worst of every mode, from full to cut-off, cold to hot',
    ...columns([head, ...cells], [1, 2]).map((l) => `  ${l}`),
    '',
  ]
}

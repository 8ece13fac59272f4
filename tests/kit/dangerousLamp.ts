// Three boards of the example made dangerous in one thing, and where each must say so: the findings' data, the terminal's text, and beside the
// part in the wiring list as text, as CSV (which is also what is printed and shown: the same rows), or among what to buy.
import { expect } from 'vitest'
import { findingsText } from '../../src/cli/findingsText.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Driver, Harness, Lamp, Mode, Pack, Power } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { billOfMaterials, remarkWords, wiringCsv, wiringRows } from '../../src/report/wiringTable.ts'
import { lampWith, type Overrides } from './lampWith.ts'

/** Three boards of the example, at most 2 A, 21 V each; 10 cells in series, 6 side by side: 30 to 42 V. */
const base = (): Lamp => {
  const lamp = gannetHead()
  return { ...lamp, boards: lamp.boards.slice(0, 3) }
}
const power = base().power!
export const pack = power.supply as Pack
export const [driver] = power.drivers as [Driver]
export const { harness } = power
export const full: Mode = { id: 'turbo', name: 'Turbo', share: 1, stepDown: null }
export const awg = (number: number) => ({ system: 'awg' as const, number })

export const withPower = (over: Overrides<Power>, lamp = base()): Lamp =>
  lampWith({ power: { modes: [full], ...over } }, lamp)
export const withHarness = (over: Overrides<Harness>): Lamp => withPower({ harness: over })
export const withDriver = (over: Partial<Driver>, rest: Overrides<Power> = {}): Lamp =>
  withPower({ drivers: [{ ...driver, ...over }], ...rest })
export const withPack = (over: Partial<Pack>, rest: Overrides<Power> = {}): Lamp =>
  withPower({ supply: { ...pack, ...over }, ...rest })
/** What would burn, the lamp, the rule, and how its title begins. */
export type Dangerous = readonly [what: string, lamp: () => Lamp, rule: string, title: RegExp]

/** Without a run of its modes: what the table alone knows. */
export function expectSaid(make: () => Lamp, rule: string, title: RegExp): void {
  const lamp = make()
  // Without a run of its modes: what the table alone knows.
  const report = runPower(lamp, { mode: '' })
  const findings = powerFindings(lamp, report)
  const found = findings.filter((f) => f.rule === rule)
  const own = found.find((f) => title.test(f.title))
  expect(own?.title ?? found.map((f) => f.title), rule).toMatch(title)
  if (!own) return
  expect(findingsText(findings).replace(/\s+/g, ' ')).toContain(own.title)
  const rows = wiringRows(report.wiring, powerOf(lamp).value, findings)
  const beside = [
    ...rows.flatMap((r) => r.remarks),
    ...billOfMaterials(report.wiring, powerOf(lamp).value, findings).flatMap((b) => b.remarks),
  ]
  expect(beside.map((r) => r.title)).toContain(own.title)
  const inRow = rows.some((r) => r.remarks.some((x) => x.title === own.title))
  if (inRow) expect(wiringCsv(rows)).toContain(remarkWords(own).replaceAll('"', '""'))
}

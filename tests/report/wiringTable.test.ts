import { expect, test } from 'vitest'
import { partOf } from '../../src/checks/finding.ts'
import { runPower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, gannetHead, iceRink } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { billOfMaterials, remarksOn, remarkWords, wiringCsv, wiringRows } from '../../src/report/wiringTable.ts'

const finding = (parts: string[], title = 'It burns.') =>
  ({ rule: 'r', severity: 'severe', title, why: '', cure: '', place: { kind: 'part', part: 'heat' }, parts }) as const
const listed = (lamp: Lamp, findings = [] as ReturnType<typeof finding>[]) => {
  const { wiring } = runPower(lamp, { mode: '' })
  const power = powerOf(lamp).value
  return { wiring, power, rows: wiringRows(wiring, power, findings), bill: billOfMaterials(wiring, power, findings) }
}

test('a row a run; a name that begins like a formula stays a name', () => {
  const { rows } = listed(benchCheck())
  const [first, ...rest] = rows
  const lines = wiringCsv([{ ...first!, from: '=1+1, "x"' }, ...rest]).split('\r\n')
  expect(lines).toHaveLength(rows.length + 2)
  expect(lines[0]).toMatch(/^run,count,channel,from,to,gauge,length_mm,/)
  expect(lines[1]).toContain(`"'=1+1, ""x"""`)
  expect(lines[1]!.endsWith(`${first!.run.plus},${first!.run.minus},`)).toBe(true)
})

test('what to buy: two conductors a run, by gauge and colour; fuses, drivers, contacts both ways', () => {
  const { wiring, bill } = listed(gannetHead())
  const bought = new Map(bill.map((b) => [b.what, b.amount]))
  // 19 channels of 600 mm, 200 mm to each board, 1.5 m to the supply.
  expect(bought.get('AWG 20 red')).toBeCloseTo(19 * 0.6, 9)
  expect(bought.get('AWG 20 brown')).toBeCloseTo(19 * 0.2, 9)
  expect(bought.get('AWG 8 black')).toBeCloseTo(1.5, 9)
  expect([bought.get('fuse 3 A, 58 V'), bought.get('fuse 40 A, 58 V')]).toEqual([19, 1])
  expect(bought.get('driver “Step-down converter, constant current”')).toBe(19)
  expect([bought.get('contactor 50 A'), bought.get('supply “10 in series, 6 in parallel”')]).toEqual([1, 1])
  const pairs = wiring.reduce((sum, w) => sum + w.connectors, 0)
  expect(bought.get('pairs of contacts')).toBe(2 * pairs)
})

test('alike runs are one row with their number; one that differs, or that something was found about, stands alone', () => {
  const rows = listed(gannetHead()).rows
  expect(rows.map((r) => [r.count, r.from, r.to])).toEqual([
    [1, '10 in series, 6 in parallel', 'branching place (through fuse and contactor)'],
    [19, 'branching place', '19 drivers'],
    [19, '19 drivers', '19 boards'],
  ])
  const found = listed(gannetHead(), [finding([partOf({ kind: 'wire', id: 'B7 out' })])]).rows
  expect(found.map((r) => [r.count, r.remarks.map(remarkWords)])).toEqual([
    [1, []],
    [19, []],
    [18, []],
    [1, ['SEVERE: It burns.']],
  ])
  expect(found[3]!.ids).toEqual(['B7 out'])
})

test('a remark stands in every row and beside everything to buy that it is about', () => {
  const one = (parts: string[]) => listed(gannetHead(), [finding(parts)])
  const beside = ({ rows, bill }: ReturnType<typeof one>) => [
    ...rows.flatMap((r) => (r.remarks.length > 0 ? [r.run.id] : [])),
    ...bill.flatMap((b) => (b.remarks.length > 0 ? [b.what] : [])),
  ]
  expect(beside(one(['driver buck']))).toEqual(['B1 in', 'driver “Step-down converter, constant current”'])
  expect(beside(one(['supply']))).toEqual(['main', 'supply “10 in series, 6 in parallel”'])
  expect(beside(one(['contactor']))).toEqual(['main', 'contactor 50 A'])
  expect(beside(one(['contacts']))).toEqual(['pairs of contacts'])
  expect(beside(one(['fuse main']))).toEqual(['main', 'fuse 40 A, 58 V'])
  expect(beside(one(['wire main']))).toEqual(['main', 'AWG 8 red', 'AWG 8 black'])
  expect(beside(one(['board B1']))).toEqual(['B1 out'])
  expect(wiringCsv(one(['board B1']).rows)).toMatch(/B1 out,1,B1,.*SEVERE: It burns\./)
  // What has not been computed stands in every row, before what was found.
  const incomplete = wiringCsv(one(['board B1']).rows, ['Heat and power: not computed.'])
    .trimEnd()
    .split('\r\n')
    .slice(1)
  for (const row of incomplete) expect(row).toContain('SEVERE: Heat and power: not computed.')
  expect(incomplete.join()).toContain('SEVERE: Heat and power: not computed. SEVERE: It burns.')
  // A finding that names several parts of a row stands there once; one that names none nowhere.
  expect(
    remarksOn([finding(['wire main', 'supply'])], [{ kind: 'supply' }, { kind: 'wire', id: 'main' }]),
  ).toHaveLength(1)
  const several = [finding(['supply'], 'A.'), finding(['wire main'], 'B.'), finding(['supply'], 'C.')]
  const titles = remarksOn(several, [{ kind: 'wire', id: 'main' }, { kind: 'supply' }]).map((r) => r.title)
  expect(titles).toEqual(['A.', 'B.', 'C.'])
  expect(remarksOn(several, [{ kind: 'contactor' }])).toEqual([])
  const { parts: _, ...without } = finding([])
  expect(remarksOn([without], [{ kind: 'supply' }])).toEqual([])
})

test('links between boards: in series alone and back to the driver, side by side in pairs', () => {
  const lamp = iceRink()
  const wired = (how: 'series' | 'parallel') =>
    listed({ ...lamp, power: { ...lamp.power!, groups: lamp.power!.groups.map((g) => ({ ...g, wired: how })) } })
  const series = wired('series')
  const links = series.wiring.filter((w) => w.part === 'link')
  // 4 + 6 boards: as many links as boards, the last one back.
  expect(links).toHaveLength(10)
  expect(links.filter((w) => w.conductors === 1)).toHaveLength(10)
  expect(links.filter((w) => /^driver \w+, its minus$/.test(w.to))).toHaveLength(2)
  const wide = series.bill.find((b) => b.what === '0.75 mm² white')!
  const total = links.reduce((sum, w) => sum + w.lengthMm, 0) + 2 * 150
  expect(wide.amount).toBeCloseTo(total / 1000, 9)
  expect(series.bill.find((b) => b.what === '0.75 mm² brown')!.amount).toBeCloseTo(0.3, 9)
  const pairs = wired('parallel').wiring.filter((w) => w.part === 'link' && w.channel === 'outer')
  expect(pairs.map((w) => w.conductors)).toEqual([2, 2, 2])
  // Of the four boards' current three fourths, a half, a fourth go on.
  const [out] = wired('parallel').wiring.filter((w) => w.id === 'outer out')
  expect(pairs.map((w) => w.amps / out!.amps)).toEqual([0.75, 0.5, 0.25])
  expect(wiringCsv(series.rows)).toMatch(/outer link \d,.*,white,,/)
})

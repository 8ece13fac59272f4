import { expect, test } from 'vitest'
import { runPower } from '../../src/job/power/run.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { toBuy, wiringCsv } from '../../src/report/wiringTable.ts'

test('a row a run; a name that begins like a formula stays a name', () => {
  const { wiring } = runPower(benchCheck(), { mode: '' })
  const lines = wiringCsv([{ ...wiring[0]!, from: '=1+1, "x"' }, ...wiring.slice(1)]).split('\r\n')
  expect(lines).toHaveLength(wiring.length + 2)
  expect(lines[0]).toMatch(/^run,channel,from,to,gauge,length_mm,/)
  expect(lines[1]).toContain(`"'=1+1, ""x"""`)
  expect(lines[1]!.endsWith(`${wiring[0]!.plus},${wiring[0]!.minus}`)).toBe(true)
})

test('what to buy: two conductors a run, by gauge and colour; fuses, drivers, contacts both ways', () => {
  const { wiring } = runPower(gannetHead(), { mode: '' })
  const bought = new Map(toBuy(wiring).map((b) => [b.what, b.amount]))
  // 19 channels of 600 mm, 200 mm to each board, 1.5 m to the supply.
  expect(bought.get('AWG 20 red')).toBeCloseTo(19 * 0.6, 9)
  expect(bought.get('AWG 20 brown')).toBeCloseTo(19 * 0.2, 9)
  expect(bought.get('AWG 8 black')).toBeCloseTo(1.5, 9)
  expect([bought.get('fuse 3 A, 58 V'), bought.get('fuse 40 A, 58 V'), bought.get('drivers')]).toEqual([19, 1, 19])
  const pairs = wiring.reduce((sum, w) => sum + w.connectors, 0)
  expect(bought.get('pairs of contacts')).toBe(2 * pairs)
})

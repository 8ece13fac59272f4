import { expect, test } from 'vitest'
import { runPower } from '../../src/job/power.ts'
import { wiringCsv } from '../../src/job/wiringTable.ts'
import { benchCheck } from '../../src/library/demos.ts'

test('a row a run; a name that begins like a formula stays a name', () => {
  const { wiring } = runPower(benchCheck(), { mode: '' })
  const lines = wiringCsv([{ ...wiring[0]!, from: '=1+1, "x"' }, ...wiring.slice(1)]).split('\r\n')
  expect(lines).toHaveLength(wiring.length + 2)
  expect(lines[0]).toMatch(/^run,channel,from,to,gauge,length_mm,/)
  expect(lines[1]).toContain(`"'=1+1, ""x"""`)
  expect(lines[1]!.endsWith(`${wiring[0]!.plus},${wiring[0]!.minus}`)).toBe(true)
})

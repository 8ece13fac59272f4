// Power settings at the ends of what is permitted: the worst-case table, the lists and the findings stay numbers and sentences.
import { expect, test } from 'vitest'
import { checkPower } from '../../src/checks/checkPower.ts'
import { makeModel } from '../../src/electrothermal/model.ts'
import { worstCaseOf } from '../../src/electrothermal/worstCase.ts'
import { faultCurrents, inrushOf } from '../../src/power/fault.ts'
import { listWiring } from '../../src/power/schedule.ts'
import { billOfMaterials, wiringCsv, wiringRows } from '../../src/report/wiringTable.ts'
import { worstRows } from '../../src/report/worstTable.ts'
import { amount } from '../kit/amount.ts'
import { seeds } from '../kit/expect.ts'
import { extremePowerLamp } from '../kit/extremePower.ts'

const finite = (_: string, x: unknown) => (typeof x === 'number' && !Number.isFinite(x) ? 'NOT FINITE' : x)

test.each(seeds(amount(20, 400)))('seed %i', (seed) => {
  const lamp = extremePowerLamp(seed)
  const model = makeModel(lamp, null)
  const { power, channels, ambientC } = model
  const worst = worstCaseOf(model)
  const faults = faultCurrents(power)
  const inrush = inrushOf(
    power,
    channels.map((c) => c.driver.id),
  )
  const boardNames = lamp.boards.map((b) => b.id)
  const wiring = listWiring({ power, channels, boardNames, worst, faults, airC: ambientC, plateC: 500 })
  const sink = { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 }
  const findings = checkPower(lamp, { modes: [], worst, faults, inrush, wiring, sink })
  const all = [worst, faults, inrush, wiring, findings, worstRows({ worst }), billOfMaterials(wiring, power, findings)]
  const text = JSON.stringify(all, finite) + wiringCsv(wiringRows(wiring, power, findings))
  expect(text.match(/.{0,60}(NOT FINITE|NaN|undefined|Infinity).{0,40}/)?.[0]).toBeUndefined()
})

import { expect, test } from 'vitest'
import { openPowerDesk } from '../../../src/job/power/client.ts'
import { carryOutPower, type PowerAnswer, type PowerOrder } from '../../../src/job/power/order.ts'
import { benchCheck, stileLamp } from '../../../src/library/demos.ts'

const noWait = async () => {}

test('an order is run mode by mode and gives one report with its findings', async () => {
  const answer = await carryOutPower({ turn: 3, lamp: stileLamp(), ledger: null }, () => false, noWait)
  if (!answer?.ok) throw new Error('no report')
  expect(answer.turn).toBe(3)
  expect(answer.report.modes.map((m) => m.name)).toEqual(stileLamp().power!.modes.map((m) => m.name))
  expect(answer.findings.some((f) => f.rule === 'touch-hot')).toBe(true)
})

test('light that the beam sheet’s ledger keeps in the lamp makes it hotter', async () => {
  const ledger = [
    { line: 'lensReturnedLost', w: 30 },
    { line: 'delivered', w: 70 },
  ]
  const [plain, hot] = await Promise.all(
    [null, ledger].map((l) => carryOutPower({ turn: 1, lamp: stileLamp(), ledger: l }, () => false, noWait)),
  )
  if (!plain?.ok || !hot?.ok) throw new Error('no report')
  const hottest = (a: typeof plain) => Math.max(...a.report.modes.at(-1)!.curves.plateMaxC)
  expect(hottest(hot)).toBeGreaterThan(hottest(plain))
})

test('a newer lamp drops the run between two modes', async () => {
  let asked = 0
  expect(await carryOutPower({ turn: 1, lamp: stileLamp(), ledger: null }, () => ++asked > 1, noWait)).toBe(null)
  expect(asked).toBe(2)
})

test('a lamp without boards has no modes, and no fault', async () => {
  const answer = await carryOutPower(
    { turn: 1, lamp: { ...benchCheck(), boards: [] }, ledger: null },
    () => false,
    noWait,
  )
  expect(answer?.ok && answer.report.modes).toEqual([])
})

test('the desk hears only the newest order; a worker that stops says so', () => {
  const orders: PowerOrder[] = []
  let answer: (a: PowerAnswer) => void = () => {}
  let broken: (why: string) => void = () => {}
  const desk = openPowerDesk((onAnswer, onBroken) => {
    answer = onAnswer
    broken = onBroken
    return { post: (order) => orders.push(order), close: () => {} }
  })
  const heard: string[] = []
  const run = (name: string) =>
    desk.run(
      { ...benchCheck(), name },
      null,
      () => heard.push(name),
      (why) => heard.push(`${name}: ${why}`),
    )
  run('a')
  run('b')
  expect(orders.map((o) => o.lamp.name)).toEqual(['a', 'b'])
  answer({ turn: orders[0]!.turn, ok: false, why: 'late' })
  expect(heard).toEqual([])
  answer({ turn: orders[1]!.turn, ok: false, why: 'why not' })
  broken('stopped')
  expect(heard).toEqual(['b: why not', 'b: stopped'])
  desk.dispose()
  broken('after')
  expect(heard).toHaveLength(2)
})

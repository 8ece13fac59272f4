import { expect, test } from 'vitest'
import { serveCalls } from '../../../src/engine/workers/calls.ts'
import { inlinePort } from '../../../src/engine/workers/port.ts'
import { openPowerClient } from '../../../src/job/power/client.ts'
import { makePowerService, type PowerCalls, type PowerRequest, runEveryMode } from '../../../src/job/power/service.ts'
import { benchCheck, stileLamp } from '../../../src/library/demos.ts'
import { Cancelled, makeScheduler } from '../../../src/num/scheduler.ts'
import { fakePorts } from '../../kit/fakePort.ts'

const run = (request: PowerRequest) => runEveryMode(request, makeScheduler())

test('a request is run mode by mode and gives one report with its findings', async () => {
  const { report, findings } = await run({ lamp: stileLamp(), ledger: null })
  expect(report.modes.map((m) => m.name)).toEqual(stileLamp().power!.modes.map((m) => m.name))
  expect(findings.some((f) => f.rule === 'touch-hot')).toBe(true)
})

test('light that the beam sheet’s ledger keeps in the lamp makes it hotter', async () => {
  const ledger = [
    { line: 'lensReturnedLost', w: 30 },
    { line: 'delivered', w: 70 },
  ]
  const [plain, hot] = await Promise.all([null, ledger].map((l) => run({ lamp: stileLamp(), ledger: l })))
  const hottest = (a: typeof plain) => Math.max(...a!.report.modes.at(-1)!.curves.plateMaxC)
  expect(hottest(hot)).toBeGreaterThan(hottest(plain))
})

test('a cancellation ends the run between two modes', async () => {
  const control = new AbortController()
  let checkpoints = 0
  const nextTask = async () => {
    if (++checkpoints === 2) control.abort()
  }
  const cancelled = runEveryMode({ lamp: stileLamp(), ledger: null }, makeScheduler(control.signal, { nextTask }))
  await expect(cancelled).rejects.toThrow(Cancelled)
  expect(checkpoints).toBe(2)
})

test('a lamp without boards has no modes, and no fault', async () => {
  expect((await run({ lamp: { ...benchCheck(), boards: [] }, ledger: null })).report.modes).toEqual([])
})

test('the service on its protocol gives what the run gives', async () => {
  const client = openPowerClient(undefined, () =>
    inlinePort((side) => serveCalls<PowerCalls>(side, makePowerService())),
  )
  const lamp = benchCheck()
  const report = await new Promise((done, fail) => client.run(lamp, null, done, fail))
  expect(report).toEqual((await run({ lamp, ledger: null })).report)
  client.dispose()
})

test('the client hears only the newest run; once disposed nothing does', async () => {
  const { open, ports } = fakePorts()
  const client = openPowerClient(undefined, open)
  const heard: string[] = []
  const start = (name: string) =>
    client.run(
      { ...benchCheck(), name },
      null,
      () => heard.push(name),
      (why) => heard.push(`${name}: ${why}`),
    )
  const settle = () => new Promise((next) => setImmediate(next))
  start('a')
  start('b')
  const [port] = ports
  expect(port!.requests.map((r) => r.kind)).toEqual(['call', 'cancel', 'call'])
  port!.reply({ kind: 'failed', id: 1, why: 'late', cancelled: true })
  await settle()
  expect(heard).toEqual([])
  // A fault of this lamp is tried once again.
  port!.reply({ kind: 'failed', id: 2, why: 'why not', cancelled: false })
  await settle()
  expect(heard).toEqual([])
  port!.reply({ kind: 'failed', id: 3, why: 'why not', cancelled: false })
  await settle()
  expect(heard).toEqual(['b: why not'])
  client.dispose()
  start('c')
  client.dispose()
  await settle()
  expect(heard).toHaveLength(1)
})

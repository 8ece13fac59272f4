// The runner against a client by hand: what is stored, what goes on after a reload, what an edit does to a run.
import { expect, test, vi } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { createToleranceRuns } from '../../../src/app/store/toleranceRuns.ts'
import { createTolerances, isRunOf } from '../../../src/app/store/tolerances.ts'
import { createToleranceRunner } from '../../../src/app/tolerances/runner.ts'
import type { ToleranceClient } from '../../../src/job/tolerances/client.ts'
import type { Spread } from '../../../src/job/tolerances/result.ts'
import type { BuiltReading } from '../../../src/job/tolerances/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { withTolerance } from '../../../src/library/typicalTolerances.ts'

const reading = (index: number): BuiltReading => ({
  index,
  figures: { fluxOutLm: [100 + (index % 7), 1, 100 + (index % 7), 1] },
  severe: [],
  why: null,
})

const heads = (rows: Map<string, unknown>) => [...rows].flatMap(([key, row]) => (key.startsWith('run:') ? row : []))

const NO_SPREAD: Spread = { lamps: 0, rows: 0, figures: [], severe: [], sunMostKWm2: null, empty: null }

/** The client answers when the test lets it. */
function handClient() {
  const calls: { lamp: Lamp; indices: readonly number[]; give(count: number): void; end(whole: boolean): void }[] = []
  const client: ToleranceClient = {
    run: (lamp, _settings, indices, onReading) =>
      new Promise((done) => {
        let next = 0
        calls.push({
          lamp,
          indices,
          give(count) {
            for (const index of indices.slice(next, next + count)) onReading(reading(index))
            next += count
          },
          end: done,
        })
      }),
    spread: async (_lamp, readings) => ({ ...NO_SPREAD, lamps: readings.length }),
    stop: () => calls.at(-1)?.end(false),
    again() {},
    dispose() {},
  }
  return { calls, client }
}

function page(rows = new Map<string, unknown>(), lamp = benchCheck()) {
  const design = createDesign(lamp)
  const tolerances = createTolerances()
  tolerances.setState({ lamps: 100 })
  const { calls, client } = handClient()
  const runs = createToleranceRuns(memoryKeyValue(rows), '65536 1')
  const runner = createToleranceRunner({ design, tolerances, runs, open: () => client, now: () => 0 }, 0)
  return { design, tolerances, calls, runner, leave: runner.start() }
}
const state = (p: ReturnType<typeof page>) => p.tolerances.getState()
const started = (p: ReturnType<typeof page>, count = 1) => vi.waitFor(() => expect(p.calls).toHaveLength(count))

test('a run comes lamp by lamp, is read, and stops as it was', async () => {
  const p = page()
  p.runner.begin()
  await started(p)
  // Eight tolerances of this lamp: nine rows of ten, and the drawn one.
  const all = 91
  expect([state(p).state, p.calls[0]?.indices.length]).toEqual(['running', all])
  p.calls[0]?.give(all)
  p.calls[0]?.end(true)
  await vi.waitFor(() => expect(state(p).run?.spread?.lamps).toBe(all))
  expect(state(p).state).toBe('done')
  // More lamps go on from there.
  p.runner.setLamps(130)
  expect(state(p).state).toBe('stopped')
  p.runner.begin()
  await started(p, 2)
  expect(p.calls[1]?.indices[0]).toBe(all)
})

test('a run that was left goes on after a reload; one that was stopped does not', async () => {
  const rows = new Map<string, unknown>()
  const before = page(rows)
  before.runner.begin()
  await started(before)
  before.calls[0]?.give(20)
  before.leave()
  await vi.waitFor(() => expect(heads(rows)).toMatchObject([{ head: { running: true }, count: 20 }]))
  const after = page(rows)
  await started(after)
  expect(after.calls[0]?.indices[0]).toBe(20)
  expect(state(after)).toMatchObject({ state: 'running', run: { readings: { length: 20 } } })
  after.runner.stop()
  await vi.waitFor(() => expect(heads(rows)).toMatchObject([{ head: { running: false } }]))
  const last = page(rows)
  await vi.waitFor(() => expect(state(last)).toMatchObject({ state: 'stopped', run: { readings: { length: 20 } } }))
  expect(last.calls).toEqual([])
})

test('an edit of the light lets the run rest; undo brings it back, a new name leaves it', async () => {
  const p = page()
  p.runner.begin()
  await started(p)
  p.calls[0]?.give(5)
  p.design.edit('Name', (lamp) => ({ ...lamp, name: 'Other' }))
  expect(state(p).state).toBe('running')
  const drawn = p.design.lamp()
  p.design.edit('Target', (lamp) => ({ ...lamp, target: { ...lamp.target, distanceM: 3 } }))
  expect(state(p).state).toBe('stopped')
  await vi.waitFor(() => expect(state(p)).toMatchObject({ state: 'idle', run: null }))
  p.design.edit('Back', () => drawn)
  await started(p, 2)
  expect(p.calls[1]?.indices[0]).toBe(5)
})

test('another tolerance is another run; without one there is none', async () => {
  const p = page()
  p.runner.begin()
  await started(p)
  const { run } = state(p)
  const wider = withTolerance(p.design.lamp(), 'lotFluxShare', { on: true, spread: 'normal', plusMinus: 0.2 })
  expect(isRunOf(run, wider)).toBe(false)
  expect(isRunOf(run, { ...p.design.lamp(), name: 'Other', workshop: {} })).toBe(true)
  // The typical ones, written down, are the same.
  const typical = withTolerance(p.design.lamp(), 'aimDeg', { on: true, spread: 'normal', plusMinus: 1 })
  expect(isRunOf(run, typical)).toBe(true)
})

test('of many runs the newest few stay', async () => {
  const rows = new Map<string, unknown>()
  const runs = createToleranceRuns(memoryKeyValue(rows), 's')
  const lampAt = (i: number): Lamp => ({ ...benchCheck(), target: { ...benchCheck().target, distanceM: 1 + i } })
  for (let i = 0; i < 9; i++) await runs.save(lampAt(i), { at: i, lamps: 9, running: false, readings: [reading(i)] })
  expect(heads(rows)).toHaveLength(6)
  expect(rows.size).toBe(12)
  expect(await runs.load(lampAt(0))).toBeNull()
  expect(await runs.load(lampAt(8))).toEqual({ at: 8, lamps: 9, running: false, readings: [reading(8)] })
})

// The panel's runner with a search by formula: when it starts and stops, when the lamp's own trace rests, what using a lamp does; and its pure parts.
import { describe, expect, test, vi } from 'vitest'
import { createSearchMemory } from '../../../src/app/optimize/memory.ts'
import { firstMoves, offered } from '../../../src/app/optimize/model/moves.ts'
import { drawSearch, nearestPoint } from '../../../src/app/optimize/model/plot.ts'
import { gainWords, stateWords } from '../../../src/app/optimize/model/words.ts'
import { createOptimizeRunner } from '../../../src/app/optimize/runner.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { createOptimize } from '../../../src/app/store/optimize.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { openOptimizeClient } from '../../../src/job/choose/client.ts'
import type { Evaluator } from '../../../src/job/choose/evaluating.ts'
import { movableOf, moveFault } from '../../../src/job/choose/moves.ts'
import { DEMOS, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

const PATH = 'lens.zMm+tunnel.zOutMm'

function page(lamp = gannetHead(), store = memoryKeyValue()) {
  const design = createDesign(lamp)
  const result = createResult()
  const optimize = createOptimize()
  const did: string[] = []
  let count = 0
  /** Called before each lamp. */
  let before = () => {}
  const evaluator: Evaluator = {
    async evaluate({ values: [z], figures }) {
      count++
      before()
      const all = {
        axialIntensityCd: { value: 5e6 - 100 * (Number(z) - 1000) ** 2, se: 100 },
        lengthMm: { value: Number(z), se: 0 },
        severeFindings: { value: 0, se: 0 },
      }
      const wanted = Object.entries(all).filter(([name]) => (figures as string[]).includes(name))
      return { ok: true, evaluation: { figures: Object.fromEntries(wanted), absent: {}, findings: [] } }
    },
    again() {},
    close: () => did.push('close'),
  }
  const trace = {
    pause() {
      did.push('pause')
      result.setState({ trace: 'paused' })
    },
    resume() {
      did.push('resume')
      result.setState({ trace: 'tracing' })
    },
  }
  const open = async () => openOptimizeClient(undefined, () => evaluator, 1)
  const runner = createOptimizeRunner({ design, result, optimize, trace, memory: createSearchMemory(store), open })
  const leave = runner.start()
  result.setState({ sheet: fakeSheet(lamp), stale: false, trace: 'tracing', atWork: true })
  return {
    ...{ design, optimize, did, runner, leave },
    /** Opens the panel; what an earlier visit has stored comes in a moment. */
    async show() {
      optimize.setState({ open: true })
      await vi.waitFor(() => expect(optimize.getState().moves).not.toEqual([]))
    },
    count: () => count,
    onLamp(f: () => void) {
      before = f
    },
  }
}

describe('a search on the page', () => {
  test('opens with something to move; the trace rests while it runs; using the best is one step of history', async () => {
    const { design, optimize, did, runner, show } = page()
    await show()
    expect(optimize.getState().moves.map((m) => m.path)).toEqual([PATH])
    await runner.search()
    const { state, run } = optimize.getState()
    expect([state, did]).toEqual(['done', ['pause', 'resume']])
    const { values } = run!.result!.confirmation!.best
    expect(Math.abs(Number(values[0]) - 1000)).toBeLessThan(2)
    expect(gainWords(run!.plan, run!.result!)).toMatch(/^(250|249\.\d+)\skcd more than the lamp as it stands\.$/)
    expect(runner.adopt(values)).toBeNull()
    expect(design.lamp().lens!.zMm).toBe(values[0])
    design.undo()
    expect(design.lamp()).toEqual(gannetHead())
  })

  test('stopped it keeps the best so far and goes on from there; closing ends its workers', async () => {
    const { optimize, did, runner, show, count, onLamp } = page()
    await show()
    onLamp(() => {
      if (count() === 20) runner.stop()
    })
    await runner.search()
    expect(optimize.getState().state).toBe('stopped')
    expect(optimize.getState().run!.result).toMatchObject({ end: 'stopped', confirmation: null })
    const half = count()
    onLamp(() => {})
    await runner.search()
    const whole = page()
    await whole.show()
    await whole.runner.search()
    expect(count()).toBe(whole.count())
    expect(count()).toBeGreaterThan(half)
    expect(optimize.getState().run!.result).toEqual(whole.optimize.getState().run!.result)
    optimize.setState({ open: false })
    expect(did.at(-1)).toBe('close')
  })

  test('after the page was closed it goes on from where it was; another lamp begins anew', async () => {
    const store = memoryKeyValue()
    const first = page(gannetHead(), store)
    await first.show()
    first.optimize.setState({ evaluations: 40 })
    first.onLamp(() => {
      if (first.count() === 25) first.runner.stop()
    })
    await first.runner.search()
    const again = page({ ...gannetHead(), name: 'Another name' }, store)
    await again.show()
    const half = first.count()
    expect(again.optimize.getState()).toMatchObject({ evaluations: 40, known: half })
    await again.runner.search()
    const whole = page()
    await whole.show()
    whole.optimize.setState({ evaluations: 40 })
    await whole.runner.search()
    expect(again.count()).toBe(whole.count() - half)
    const other = page({ ...gannetHead(), target: { ...gannetHead().target, distanceM: 500 } }, store)
    await other.show()
    expect(other.optimize.getState().known).toBe(0)
    await other.runner.search()
    expect(other.count()).toBe(whole.count())
  })

  test('with the panel closed it goes on, beside the lamp’s own trace; its workers end with it', async () => {
    const { optimize, did, runner, show, count, onLamp } = page()
    await show()
    onLamp(() => {
      if (count() === 10) optimize.setState({ open: false })
    })
    await runner.search()
    expect(did).toEqual(['pause', 'resume', 'close'])
    expect(optimize.getState().state).toBe('done')
    expect(optimize.getState().run!.result!.confirmation).not.toBeNull()
  })

  test('left while it ran, it goes on by itself when the page is back; not with another lamp, and not when it was stopped', async () => {
    const store = memoryKeyValue()
    const first = page(gannetHead(), store)
    await first.show()
    first.optimize.setState({ evaluations: 40 })
    first.onLamp(() => {
      if (first.count() === 25) first.leave()
    })
    await first.runner.search()
    const known = await createSearchMemory(store).load()
    expect(known).toMatchObject({ running: true, setup: { evaluations: 40 } })
    const other = page({ ...gannetHead(), target: { ...gannetHead().target, distanceM: 500 } }, store)
    const again = page(gannetHead(), store)
    await vi.waitFor(() => expect(again.optimize.getState().state).toBe('done'))
    expect([again.optimize.getState().open, again.did]).toEqual([false, ['pause', 'resume', 'close']])
    expect(other.count()).toBe(0)
    await vi.waitFor(async () => expect(await createSearchMemory(store).load()).toMatchObject({ running: false }))
    const ended = page(gannetHead(), store)
    await ended.show()
    // The lamp that was at work when the page went is evaluated once more.
    expect(ended.optimize.getState()).toMatchObject({ state: 'idle', known: first.count() - 1 + again.count() })
    expect(ended.count()).toBe(0)
  })

  test('a plan that can’t be searched says why and starts nothing', async () => {
    const { optimize, runner, show, count } = page()
    await show()
    optimize.setState({ moves: [{ kind: 'number', path: PATH, min: 1200, max: 900 }] })
    await runner.search()
    expect(optimize.getState()).toMatchObject({ state: 'idle', why: expect.stringContaining('lower bound') })
    expect(count()).toBe(0)
  })
})

test('what it begins with is valid for every example; what moves is not offered again', () => {
  for (const make of Object.values(DEMOS)) {
    const movable = movableOf(make())
    for (const move of firstMoves(movable)) expect(moveFault(movable, move)).toBeNull()
  }
  const movable = movableOf(gannetHead())
  const paths = offered(movable, [{ kind: 'number', path: PATH, min: 900, max: 1000 }]).numbers.map((p) => p.path)
  expect(paths).not.toContain('lens.zMm')
  expect(paths).toContain('lens.focalMm')
  expect(firstMoves(movableOf(stileLamp()))[0]!.path).toBe('optics.collimator-20.fwhmDeg')
})

test('the picture of a front, and the point next to a place', async () => {
  const { optimize, runner, show } = page()
  await show()
  optimize.setState({ evaluations: 60 })
  optimize.setState({
    wants: [
      { figure: 'axialIntensityCd', aim: 'most' },
      { figure: 'lengthMm', aim: 'least' },
    ],
  })
  await runner.search()
  const { run } = optimize.getState()
  const box = { widthPx: 400, heightPx: 300, left: 50, right: 10, top: 10, bottom: 40 }
  const plot = drawSearch(run!.plan, run!.progress!, box)
  expect(plot.points).toHaveLength(run!.progress!.front.length)
  expect([plot.xWords, plot.yWords]).toEqual(['Axial intensity, Mcd', 'Length, sink to front, mm'])
  for (const p of plot.points) {
    expect(p.x).toBeGreaterThanOrEqual(50)
    expect(p.x).toBeLessThanOrEqual(390)
    expect(nearestPoint(plot.points, p.x, p.y)).toBe(p)
  }
  expect(stateWords('done', run!.progress, '')).toBe('60 lamps tried')
})

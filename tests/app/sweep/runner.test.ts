// The panel's driver with a sweeper of its own: when it starts, when the lamp's own trace rests, what taking a cell does.
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { memoryKeyValue } from '../../../src/app/store/keyValue.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { createSweep } from '../../../src/app/store/sweep.ts'
import { createSweepMemory } from '../../../src/app/sweep/memory.ts'
import { createSweepRunner, type SweepClient } from '../../../src/app/sweep/runner.ts'
import { lampAt, valuesAt } from '../../../src/job/sweep/plan.ts'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

const reading = { rays: 1, figures: {}, absent: {}, findings: [] }

function page(lamp = gannetHead(), store = memoryKeyValue()) {
  const design = createDesign(lamp)
  const result = createResult()
  const sweep = createSweep()
  const did: string[] = []
  let finish: (() => void) | null = null
  let give: (() => void) | null = null
  const sweeper: SweepClient = {
    sweep(base, axes, _, onCell, indices) {
      did.push(`sweep ${axes.map((a) => `${a.path} ${a.values.length}`).join(', ')}`)
      let next = 0
      return new Promise((done) => {
        give = () => {
          const index = indices[next++]!
          const values = valuesAt(axes, index)
          const made = lampAt(base, axes, values)
          onCell({ index, values, reading: made.ok ? reading : null, why: made.ok ? null : made.why })
        }
        finish = () => {
          while (next < indices.length) give?.()
          done(true)
        }
      })
    },
    stop: () => did.push('stop'),
    again: () => did.push('again'),
    dispose: () => did.push('dispose'),
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
  const sweeping = createSweepRunner(
    { design, result, sweep, trace, memory: createSweepMemory(store), open: () => sweeper },
    100,
  )
  const off = sweeping.start()
  const tracing = () =>
    result.setState({ sheet: fakeSheet(design.lamp()), stale: false, trace: 'tracing', atWork: true })
  const ends = async () => {
    await vi.advanceTimersByTimeAsync(0)
    finish?.()
    await vi.advanceTimersByTimeAsync(0)
  }
  /** So many cells of those that are asked for. */
  const gives = async (count: number) => {
    await vi.advanceTimersByTimeAsync(10)
    for (let i = 0; i < count; i++) give?.()
    await vi.advanceTimersByTimeAsync(10)
  }
  return { design, result, sweep, sweeping, did, tracing, ends, gives, off }
}

describe('starting', () => {
  test('opening the panel tries the lamp’s first number; the trace rests meanwhile and goes on', async () => {
    const p = page()
    p.tracing()
    p.sweep.setState({ open: true })
    await vi.advanceTimersByTimeAsync(10)
    expect(p.did).toEqual(['pause', 'sweep lens.zMm+tunnel.zOutMm 11'])
    expect(p.sweep.getState().state).toBe('running')
    await p.ends()
    expect(p.sweep.getState().state).toBe('done')
    expect(p.sweep.getState().run!.cells.filter(Boolean)).toHaveLength(11)
    expect(p.did.at(-1)).toBe('resume')
  })

  test('closed in its middle, it goes on with the cells that are missing, also when the page comes back', async () => {
    const store = memoryKeyValue()
    const p = page(gannetHead(), store)
    p.sweep.setState({ open: true })
    await p.gives(0)
    p.sweep.setState({ ranges: [{ ...p.sweep.getState().ranges[0]!, count: 7 }] })
    await vi.advanceTimersByTimeAsync(200)
    await p.gives(3)
    p.sweep.setState({ open: false })
    p.sweep.setState({ open: true })
    await p.gives(0)
    expect(p.sweep.getState().run!.cells.filter(Boolean)).toHaveLength(3)
    await vi.advanceTimersByTimeAsync(4000)
    await p.gives(1)
    const back = page(gannetHead(), store)
    back.sweep.setState({ open: true })
    await back.gives(2)
    expect(back.sweep.getState().run!.cells.filter(Boolean)).toHaveLength(6)
    await back.ends()
    expect(back.sweep.getState()).toMatchObject({ state: 'done', ranges: [{ count: 7 }] })
    // Of another lamp none is known.
    const other = page({ ...gannetHead(), target: { ...gannetHead().target, distanceM: 500 } }, store)
    other.sweep.setState({ open: true })
    await other.gives(1)
    expect(other.sweep.getState().run!.cells.filter(Boolean)).toHaveLength(1)
  })

  test('the lamp’s own first figures come first', async () => {
    const p = page()
    p.result.setState({ sheet: null, trace: 'tracing', atWork: true })
    p.sweep.setState({ open: true })
    await vi.advanceTimersByTimeAsync(1000)
    expect(p.did).toEqual([])
    expect(p.sweep.getState().state).toBe('waiting')
    p.tracing()
    await vi.advanceTimersByTimeAsync(10)
    expect(p.did).toEqual(['pause', 'sweep lens.zMm+tunnel.zOutMm 11'])
  })

  test('a trace that the builder paused stays paused; one that has ended is left alone', async () => {
    const p = page()
    p.tracing()
    p.result.setState({ trace: 'paused' })
    p.sweep.setState({ open: true })
    await p.ends()
    expect(p.did.filter((d) => d === 'resume' || d === 'pause')).toEqual([])
    const q = page()
    q.tracing()
    q.result.setState({ trace: 'settled', atWork: false })
    q.sweep.setState({ open: true })
    await q.ends()
    expect(q.did).toEqual(['sweep lens.zMm+tunnel.zOutMm 11'])
  })

  test('changed ranges start it anew, once; a range that can’t be tried says why and starts nothing', async () => {
    const p = page()
    p.sweep.setState({ open: true })
    await p.ends()
    p.did.length = 0
    const [range] = p.sweep.getState().ranges
    p.sweep.setState({ ranges: [{ ...range!, count: 5 }] })
    p.sweep.setState({ ranges: [{ ...range!, count: 6 }] })
    await vi.advanceTimersByTimeAsync(150)
    expect(p.did).toEqual(['stop', 'sweep lens.zMm+tunnel.zOutMm 6'])
    p.did.length = 0
    p.sweep.setState({ ranges: [{ ...range!, from: -5 }] })
    await vi.advanceTimersByTimeAsync(150)
    expect(p.did).toEqual(['stop'])
    expect(p.sweep.getState()).toMatchObject({ state: 'idle', why: '-5 does not fit; expected at least 10.1.' })
  })

  test('another lamp without those numbers begins with its own', async () => {
    const p = page()
    p.sweep.setState({ open: true })
    await p.ends()
    p.did.length = 0
    p.design.open(benchCheck())
    await vi.advanceTimersByTimeAsync(500)
    expect(p.did).toEqual(['stop', 'sweep lens.zMm 11'])
  })
})

test('a range that can’t be tried, set while a sweep runs, lets the trace go on', async () => {
  const p = page()
  p.tracing()
  p.sweep.setState({ open: true })
  await vi.advanceTimersByTimeAsync(10)
  p.did.length = 0
  p.sweep.setState({ ranges: [{ path: 'lens.zMm', from: 5, to: 5, count: 3 }] })
  await vi.advanceTimersByTimeAsync(150)
  expect(p.did).toEqual(['stop', 'resume'])
})

describe('taking a cell', () => {
  test('is one step of history, starts no new sweep, and undo brings the old values back', async () => {
    const p = page()
    p.sweep.setState({ open: true })
    await p.ends()
    p.did.length = 0
    expect(p.sweeping.adopt(8)).toBeNull()
    expect([p.design.lamp().lens!.zMm, p.design.lamp().tunnel!.zOutMm]).toEqual([1110, 1100])
    expect(p.design.store.getState().label).toBe('Lens: stands at z, with the tunnel’s end 1110 mm')
    expect(p.sweep.getState()).toMatchObject({ at: 8, announcement: expect.stringMatching(/^Used: Lens.*1110 mm/) })
    await vi.advanceTimersByTimeAsync(2000)
    expect(p.did).toEqual([])
    p.design.undo()
    expect(p.design.lamp()).toEqual(gannetHead())
    expect(p.design.canUndo()).toBe(false)
  })

  test('a lamp that can’t be built is not taken, and says why; nor is one that hasn’t come', async () => {
    const p = page()
    p.sweep.setState({ open: true, ranges: [{ path: 'lens.zMm', from: 900, to: 1100, count: 3 }] })
    await vi.advanceTimersByTimeAsync(150)
    expect(p.sweeping.adopt(0)).toBe('This one has not been traced yet.')
    await p.ends()
    expect(p.sweeping.adopt(0)).toContain('into the tunnel')
    expect(p.design.lamp()).toEqual(gannetHead())
  })
})

test('an edit of another number sweeps again after a while; a new name doesn’t', async () => {
  const p = page()
  p.sweep.setState({ open: true })
  await p.ends()
  p.did.length = 0
  p.design.edit('Name', (lamp) => ({ ...lamp, name: 'Other' }))
  await vi.advanceTimersByTimeAsync(1000)
  expect(p.did).toEqual([])
  p.design.edit('Face', (lamp) => ({ ...lamp, face: { ...lamp.face, reflectance: 0.1 } }))
  await vi.advanceTimersByTimeAsync(1000)
  expect(p.did).toEqual(['stop', 'sweep lens.zMm+tunnel.zOutMm 11'])
})

test('closing the panel stops it, lets its workers go and the trace go on', async () => {
  const p = page()
  p.tracing()
  p.sweep.setState({ open: true })
  await vi.advanceTimersByTimeAsync(10)
  p.did.length = 0
  p.sweep.setState({ open: false })
  expect(p.did).toEqual(['stop', 'resume', 'dispose'])
  expect(p.sweep.getState().state).toBe('stopped')
  p.off()
})

import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { followPower, sameRun } from '../../../src/app/power/followPower.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createPower } from '../../../src/app/store/power.ts'
import { createResult } from '../../../src/app/store/result.ts'
import type { PowerReport } from '../../../src/electrothermal/result.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, stileLamp } from '../../../src/library/demos.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function bench() {
  const design = createDesign(stileLamp())
  const power = createPower()
  const result = createResult()
  const runs: {
    lamp: Lamp
    ledger: readonly { line: string }[] | null
    give(name: string): void
    fail(why: string): void
  }[] = []
  let gone = false
  const off = followPower(design, power, result, () => ({
    run: (lamp, ledger, onReport, fail) =>
      void runs.push({
        lamp,
        ledger,
        fail,
        give: (name) => onReport({ lamp: name, modes: [] } as unknown as PowerReport, []),
      }),
    dispose: () => {
      gone = true
    },
  }))
  return { design, power, result, runs, off, isGone: () => gone }
}

const warmer = (lamp: Lamp): Lamp => ({ ...lamp, reading: { ...lamp.reading, ambientC: lamp.reading.ambientC + 5 } })

test('the lamp is run at once, and after an edit when the drag pauses', () => {
  const { design, power, runs } = bench()
  expect(runs).toHaveLength(1)
  runs[0]!.give('first')
  expect(power.getState()).toMatchObject({ report: { lamp: 'first' }, stale: false })
  design.edit('Air', warmer)
  design.edit('Air', warmer)
  expect(power.getState().stale).toBe(true)
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(2)
  expect(runs[1]!.lamp).toBe(design.lamp())
  runs[1]!.give('second')
  expect(power.getState()).toMatchObject({ report: { lamp: 'second' }, stale: false })
})

test('ticks, the target and the working point looked at ask for no new run', () => {
  const { design, runs } = bench()
  design.edit('Tick', (lamp) => ({ ...lamp, powerUp: { done: ['lamp/eyes'] } }))
  design.edit('Beam', (lamp) => ({ ...lamp, heat: { kind: 'board', boardC: 50 } }))
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(1)
  expect(sameRun(stileLamp(), warmer(stileLamp()))).toBe(false)
})

test('undone to where it began, it is still the same lamp: the mode looked at stays', () => {
  const { design, power, runs } = bench()
  runs[0]!.give('first')
  power.setState({ mode: 'high' })
  design.edit('Air', warmer)
  vi.advanceTimersByTime(500)
  design.undo()
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(3)
  expect(power.getState()).toMatchObject({ mode: 'high', report: { lamp: 'first' } })
})

test('a run that fails says why and leaves no old findings; another lamp begins at its own first mode', () => {
  const { design, power, runs, off, isGone } = bench()
  runs[0]!.give('first')
  power.setState({ mode: 'high', atS: 9 })
  design.open(benchCheck())
  vi.advanceTimersByTime(500)
  expect(power.getState()).toMatchObject({ mode: null, atS: null, stale: true, report: null })
  runs[1]!.fail('no use')
  expect(power.getState()).toMatchObject({ why: 'no use', findings: [] })
  off()
  expect(isGone()).toBe(true)
})

test('once the beam sheet has settled, the run is made again with the light that stays in the lamp, once', () => {
  const { design, result, runs } = bench()
  expect(runs[0]!.ledger).toBe(null)
  const settled = fakeSheet(design.lamp(), 'settled')
  result.setState({ sheet: { ...settled, state: 'rough' }, stale: false })
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(1)
  result.setState({ sheet: settled, stale: false })
  result.setState({ sheet: { ...settled } })
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(2)
  expect(runs[1]!.ledger).toBe(settled.ledger)
  // Another lens bears on nothing else of the run.
  result.setState({ stale: true })
  result.setState({ sheet: settled, stale: false })
  vi.advanceTimersByTime(500)
  expect(runs).toHaveLength(3)
})

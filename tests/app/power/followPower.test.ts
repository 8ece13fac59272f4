import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { followPower, sameRun } from '../../../src/app/power/followPower.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createMissing, missingFindings } from '../../../src/app/store/missing.ts'
import { createPower } from '../../../src/app/store/power.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { joinFindings } from '../../../src/app/store/severe.ts'
import type { Finding } from '../../../src/checks/finding.ts'
import type { PowerReport } from '../../../src/electrothermal/result.ts'
import type { PowerClient } from '../../../src/job/power/client.ts'
import type { Trouble } from '../../../src/job/service/restarting.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, stileLamp } from '../../../src/library/demos.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function bench() {
  const design = createDesign(stileLamp())
  const power = createPower()
  const result = createResult()
  const missing = createMissing()
  const runs: {
    lamp: Lamp
    ledger: readonly { line: string }[] | null
    give(name: string, findings?: Finding[]): void
    fail(why: string): void
  }[] = []
  let gone = false
  let trouble: (t: Trouble) => void = () => {}
  const calls: string[] = []
  const open = (onTrouble: (t: Trouble) => void): PowerClient => {
    trouble = onTrouble
    return client
  }
  const client: PowerClient = {
    again: () => calls.push('again'),
    run: (lamp, ledger, onReport, fail) =>
      void runs.push({
        lamp,
        ledger,
        fail,
        give: (name, findings = []) => onReport({ lamp: name, modes: [] } as unknown as PowerReport, findings),
      }),
    dispose: () => {
      gone = true
    },
  }
  const off = followPower(design, power, result, missing, open)
  return { design, power, result, missing, runs, off, calls, trouble: (t: Trouble) => trouble(t), isGone: () => gone }
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

const HOT: Finding = {
  rule: 'junction-over',
  severity: 'severe',
  title: 'Junctions at 190 °C.',
  why: 'Over the limit.',
  cure: 'More fins.',
  place: { kind: 'part', part: 'heat' },
}

test('a run that fails is missing, and says why; the last findings of this lamp stay, marked, until there are new ones', () => {
  const { design, power, missing, runs } = bench()
  const titles = () =>
    joinFindings({ beam: null, heat: power.getState().findings, missing: missing.getState() }).map((f) => f.title)
  runs[0]!.give('first', [HOT])
  expect(titles()).toEqual(['Junctions at 190 °C.'])
  design.edit('Air', warmer)
  vi.advanceTimersByTime(500)
  runs[1]!.fail('no such lamp')
  expect(power.getState()).toMatchObject({ why: 'no such lamp', report: { lamp: 'first' }, stale: true })
  expect(titles()).toEqual(['Heat and power: not computed. no such lamp.', 'Perhaps still: Junctions at 190 °C.'])
  // The next edit tries anew; until it has ended the remark stays.
  design.edit('Air', warmer)
  vi.advanceTimersByTime(500)
  expect(titles()).toHaveLength(2)
  runs[2]!.give('third', [])
  expect(titles()).toEqual([])
})

test('a worker that is started again says so; “Try again” starts it and the run', () => {
  const { missing, runs, calls, trouble } = bench()
  const finding = () => missingFindings(missing.getState())[0]
  trouble({ why: 'The worker stopped: boom.', restarts: true })
  expect(finding()).toMatchObject({
    severity: 'severe',
    title: 'Heat and power: not computed. The worker stopped: boom.',
    cure: 'Wait: it is tried again automatically.',
  })
  runs[0]!.fail('The worker stopped: boom.')
  expect(finding()!.cure).toContain('Press “Try again”')
  missing.getState().heat!.again()
  expect(calls).toEqual(['again'])
  expect(runs).toHaveLength(2)
  expect(finding()!.cure).toContain('automatically')
  runs[1]!.give('second')
  expect(finding()).toBeUndefined()
})

test('another lamp begins at its own first mode, without findings or remarks of the one before', () => {
  const { design, power, missing, runs, off, isGone } = bench()
  runs[0]!.give('first', [HOT])
  power.setState({ mode: 'high', atS: 9 })
  design.edit('Air', warmer)
  vi.advanceTimersByTime(500)
  runs[1]!.fail('no use')
  design.open(benchCheck())
  vi.advanceTimersByTime(500)
  expect(power.getState()).toMatchObject({ mode: null, atS: null, stale: true, report: null, findings: [] })
  expect(missing.getState().heat).toBeNull()
  runs[2]!.fail('no use')
  expect(missing.getState().heat).toMatchObject({ why: 'no use.', restarts: false })
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

test('workshop and screw holes start no run; other entries of a board type do', () => {
  const lamp = stileLamp()
  const typed = (part: Partial<Lamp['boardTypes'][number]>): Lamp => ({
    ...lamp,
    boardTypes: lamp.boardTypes.map((t) => ({ ...t, ...part })),
  })
  const holes = [{ xMm: 0, yMm: 14, diameterMm: 3.2 }]
  expect(sameRun({ ...typed({ holes }), workshop: { kerfMm: 0.3 } }, lamp)).toBe(true)
  expect(sameRun(lamp, typed({ holes }))).toBe(true)
  expect(sameRun(typed({ holes, strings: 7 }), lamp)).toBe(false)
  expect(sameRun({ ...lamp, boardTypes: [...lamp.boardTypes, ...lamp.boardTypes] }, lamp)).toBe(false)
})

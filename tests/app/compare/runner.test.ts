// Who reads which lamp when: light of all first, then heat, rough dangers, whole ones; a lamp that is gone frees its reader at once.
import { expect, test } from 'vitest'
import { createStore } from 'zustand/vanilla'
import { modesOf, stepsBefore } from '../../../src/app/compare/model/beside.ts'
import { createCompareRunner } from '../../../src/app/compare/runner.ts'
import { compare } from '../../../src/app/store/compare.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import type { Result } from '../../../src/app/store/result.ts'
import type { ColumnReader } from '../../../src/job/compare/run.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { fakeColumn } from '../../kit/fakeColumn.ts'
import { settle } from '../../kit/storagePage.ts'

/** Each call waits until it is let go; what was called stands in `calls`. */
function heldReaders() {
  const calls: string[] = []
  const waiting: (() => void)[] = []
  const open = (): ColumnReader => {
    const held = <T>(what: string, value: T) => {
      calls.push(what)
      return new Promise<T>((resolve) => waiting.push(() => resolve(value)))
    }
    return {
      light: ({ name }: Lamp) => held(`light of ${name}`, fakeColumn(gannetHead())),
      heat: ({ name }) => held(`heat of ${name}`, { modes: [], findings: [] }),
      danger: (lamp, { rough }) =>
        held(`${rough ? 'rough' : 'whole'} dangers of ${lamp.name}`, { ...fakeColumn(lamp).danger, rough }),
      close: () => void calls.push('closed'),
    }
  }
  const next = async () => {
    waiting.shift()?.()
    await settle()
  }
  return { calls, open, next }
}

const idle = () =>
  createStore(() => ({ sheet: null, stale: false, trace: 'paused', atWork: false, heldBy: [] })) as unknown as Result

test('light first, whole dangers last; an edit frees the reader of the lamp as it was', async () => {
  const { calls, open, next } = heldReaders()
  const design = createDesign(stileLamp())
  const trace = { pause() {}, resume() {} }
  const lightOnly = (l: ReturnType<typeof fakeColumn>) => ({ light: l.light, parts: l.parts })
  const reader = () => {
    const one = open()
    return {
      ...one,
      light: async (...args: Parameters<ColumnReader['light']>) => lightOnly((await one.light(...args)) as never),
    }
  }
  const runner = createCompareRunner({ design, result: idle(), compare, trace, open: reader, atOnce: 1 })
  const stop = runner.start()
  compare.setState({ open: true })
  runner.add(benchCheck(), 'an example')
  await settle()
  for (let i = 0; i < 7; i++) await next()
  expect(calls).toEqual([
    'light of Stile lamp',
    'light of Bench check',
    'heat of Stile lamp',
    'heat of Bench check',
    'rough dangers of Stile lamp',
    'rough dangers of Bench check',
    'whole dangers of Stile lamp',
    'whole dangers of Bench check',
  ])
  const [, other] = compare.getState().lamps
  runner.remove(other?.key ?? '')
  await settle()
  expect(calls.at(-1)).toBe('closed')
  expect(compare.getState().lamps.map((l) => [l.name, l.state])).toEqual([['Stile lamp', 'done']])
  for (const lamp of [benchCheck(), gannetHead(), stileLamp(), benchCheck()]) runner.add(lamp, 'a file')
  expect(compare.getState()).toMatchObject({ refused: true, lamps: { length: 4 } })
  stop()
  compare.setState({ open: false, lamps: [] })
})

test('the open lamp before each of its last edits, newest first; its modes but the one it is in', () => {
  const design = createDesign(gannetHead())
  design.edit('Lens: stands at z', (l) => ({ ...l, lens: l.lens && { ...l.lens, zMm: 1060 } }))
  design.edit('Name', (l) => ({ ...l, name: 'Other' }))
  const before = stepsBefore(design)
  expect(before.map((b) => b.words)).toEqual([
    'Name: “Gannet Head” → “Other”',
    expect.stringMatching(/^Lens: stands at z 1050 → 1060/),
  ])
  expect(before[1]?.lamp).toEqual(gannetHead())
  const inTurbo = { ...gannetHead(), heat: { kind: 'mode' as const, mode: 'turbo', seconds: 0 } }
  const modes = modesOf(inTurbo)
  expect(modes.map((m) => m.words)).not.toContain('Turbo, as switched on')
  expect(modes).toHaveLength(2 * (inTurbo.power?.modes.length ?? 0) - 1)
})

// The driver with a reader of its own: when it reads, when the lamp's own trace rests, what an edit in between does.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createDangerReader, type DangerClient } from '../../../src/app/danger/reader.ts'
import { createDanger } from '../../../src/app/store/danger.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createResult } from '../../../src/app/store/result.ts'
import type { DangerReading } from '../../../src/job/danger/result.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function page() {
  const design = createDesign(gannetHead())
  const result = createResult()
  const danger = createDanger()
  const did: string[] = []
  const requests: { lamp: Lamp; rough(): void; end(reading: DangerReading | null): void; fail(why: string): void }[] =
    []
  const reader: DangerClient = {
    read(lamp, onStage, onRough) {
      did.push('read')
      onStage('sun', 0.5)
      return new Promise((done, no) =>
        requests.push({ lamp, rough: () => onRough(fakeDanger(lamp)), end: done, fail: (why) => no(new Error(why)) }),
      )
    },
    stop: () => did.push('stop'),
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
  createDangerReader({ design, result, danger, trace, open: () => reader }, 100).start()
  const tracing = () =>
    result.setState({ sheet: fakeSheet(design.lamp()), stale: false, trace: 'tracing', atWork: true })
  const wait = (ms = 0) => vi.advanceTimersByTimeAsync(ms)
  const thicker = () => design.edit('Lens', (l) => ({ ...l, lens: { ...l.lens!, zMm: l.lens!.zMm + 1 } }))
  return { design, result, danger, did, asked: requests, tracing, wait, thicker }
}

test('nothing is read until the sheet is shown; then the lamp’s own first figures come first and its trace pauses', async () => {
  const p = page()
  p.result.setState({ trace: 'tracing', atWork: true })
  await p.wait(500)
  expect(p.did).toEqual([])
  p.danger.setState({ open: true })
  await p.wait()
  expect(p.danger.getState().state).toBe('waiting')
  p.tracing()
  await p.wait()
  expect(p.did).toEqual(['pause', 'read'])
  expect(p.danger.getState()).toMatchObject({ state: 'running', stage: 'sun', share: 0.5 })
  p.asked[0]!.rough()
  expect(p.danger.getState()).toMatchObject({ rough: true, state: 'running' })
  p.asked[0]!.end(fakeDanger(p.design.lamp()))
  await p.wait()
  expect(p.danger.getState()).toMatchObject({ rough: false, stale: false, state: 'done' })
  expect(p.did).toEqual(['pause', 'read', 'resume'])
})

test('an edit drops what was being read: its late answer counts for nothing', async () => {
  const p = page()
  p.danger.setState({ open: true })
  await p.wait()
  p.thicker()
  p.asked[0]!.end(fakeDanger(p.asked[0]!.lamp))
  await p.wait(50)
  expect(p.danger.getState().reading).toBeNull()
  await p.wait(100)
  expect(p.asked.length).toBe(2)
  expect(p.asked[1]!.lamp).toBe(p.design.lamp())
})

test('old figures stay, marked, until the new ones come; undo brings the mark off without reading', async () => {
  const p = page()
  p.danger.setState({ open: true })
  await p.wait()
  p.asked[0]!.end(fakeDanger(p.design.lamp()))
  await p.wait()
  p.thicker()
  expect(p.danger.getState()).toMatchObject({ stale: true })
  p.design.undo()
  expect(p.danger.getState()).toMatchObject({ stale: false, state: 'done' })
  await p.wait(500)
  expect(p.asked.length).toBe(1)
})

test('a closed panel reads no more, unless outlines are drawn', async () => {
  const p = page()
  p.danger.setState({ open: true, outlines: true })
  await p.wait()
  p.asked[0]!.end(fakeDanger(p.design.lamp()))
  await p.wait()
  p.danger.setState({ open: false })
  p.thicker()
  await p.wait(200)
  expect(p.asked.length).toBe(2)
  p.danger.setState({ outlines: false })
  expect(p.danger.getState().state).toBe('idle')
  p.thicker()
  await p.wait(500)
  expect(p.asked.length).toBe(2)
})

test('a failure says why, and is tried again when the sheet is shown next', async () => {
  const p = page()
  p.danger.setState({ open: true })
  await p.wait()
  p.asked[0]!.fail('no worker')
  await p.wait()
  expect(p.danger.getState()).toMatchObject({ state: 'failed', why: 'no worker' })
  p.danger.setState({ open: false })
  p.danger.setState({ open: true })
  await p.wait()
  expect(p.asked.length).toBe(2)
})

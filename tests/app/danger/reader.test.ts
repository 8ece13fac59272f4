// The driver with a reader of its own: when it reads, when the lamp's own trace rests, what an edit in between does.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createDangerReader, type DangerClient } from '../../../src/app/danger/reader.ts'
import { createDanger } from '../../../src/app/store/danger.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createMissing } from '../../../src/app/store/missing.ts'
import { createResult } from '../../../src/app/store/result.ts'
import type { DangerReading } from '../../../src/job/danger/result.ts'
import type { Trouble } from '../../../src/job/service/restarting.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function page() {
  const design = createDesign(gannetHead())
  const result = createResult()
  const danger = createDanger()
  const missing = createMissing()
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
  let trouble: (t: Trouble) => void = () => {}
  const open = (onTrouble: (t: Trouble) => void) => {
    trouble = onTrouble
    return reader
  }
  createDangerReader({ design, result, danger, missing, trace, open }, 100).start()
  const tracing = () =>
    result.setState({ sheet: fakeSheet(design.lamp()), stale: false, trace: 'tracing', atWork: true })
  const wait = (ms = 0) => vi.advanceTimersByTimeAsync(ms)
  const thicker = () => design.edit('Lens', (l) => ({ ...l, lens: { ...l.lens!, zMm: l.lens!.zMm + 1 } }))
  return {
    design,
    result,
    danger,
    missing,
    did,
    asked: requests,
    tracing,
    wait,
    thicker,
    trouble: (t: Trouble) => trouble(t),
  }
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

test('what failed is missing until it has been read whole; “Try again” starts the worker and reads; another lamp has its own remarks', async () => {
  const p = page()
  const gone = () => p.missing.getState().danger
  p.danger.setState({ open: true })
  await p.wait()
  p.trouble({ why: 'The danger sheet stopped: boom.', restarts: true })
  expect(gone()).toMatchObject({ why: 'The danger sheet stopped: boom.', restarts: true })
  p.asked[0]!.rough()
  expect(gone()).not.toBeNull()
  p.asked[0]!.fail('The danger sheet stopped: boom.')
  await p.wait()
  expect(gone()).toMatchObject({ restarts: false })
  gone()!.again()
  await p.wait()
  expect(p.did.slice(-2)).toEqual(['stop', 'read'])
  expect(p.did).toContain('again')
  p.asked[1]!.end(fakeDanger(p.design.lamp()))
  await p.wait()
  expect(gone()).toBeNull()
  p.thicker()
  await p.wait(200)
  p.asked[2]!.fail('no worker')
  await p.wait()
  expect(p.danger.getState().reading).not.toBeNull()
  p.design.open(stileLamp())
  expect(gone()).toBeNull()
})

test('a panel that is closed while the worker is being started again waits for nobody: the remark offers to try again', async () => {
  const p = page()
  p.danger.setState({ open: true })
  await p.wait()
  p.trouble({ why: 'Stopped.', restarts: true })
  p.danger.setState({ open: false })
  expect(p.missing.getState().danger).toMatchObject({ why: 'Stopped.', restarts: false })
})

import { expect, test } from 'vitest'
import { createTracing, firstOf, type TraceClient } from '../../../src/app/shell/tracing.ts'
import { createDesign } from '../../../src/app/store/design.ts'
import { createMissing } from '../../../src/app/store/missing.ts'
import { createResult } from '../../../src/app/store/result.ts'
import type { JobOptions, Sheet, TraceFirst } from '../../../src/job/beam/sheet.ts'
import type { Trouble } from '../../../src/job/service/restarting.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

interface Asked {
  lamp: Lamp
  options: JobOptions
  onSheet(sheet: Sheet): void
  onFail(why: string, ofLamp?: boolean): void
  onEnd(): void
  onHandedOver(): void
}

function bench({ waits = false, first }: { waits?: boolean; first?: () => TraceFirst | undefined } = {}) {
  const design = createDesign(gannetHead())
  const result = createResult()
  const missing = createMissing()
  const frame = new Map<string, () => void>()
  const requests: Asked[] = []
  const calls: string[] = []
  const tracer: TraceClient = {
    trace: (lamp, options, onSheet, onFail, onEnd, onHandedOver) =>
      requests.push({
        ...{ lamp, options, onSheet, onEnd, onHandedOver },
        onFail: (why, ofLamp = false) => onFail(why, ofLamp),
      }),
    pause: () => calls.push('pause'),
    resume: () => calls.push('resume'),
    again: () => calls.push('again'),
    dispose: () => calls.push('dispose'),
  }
  const tracing = createTracing(
    design,
    result,
    missing,
    (name, draw) => frame.set(name, draw),
    waits ? (name, draw) => frame.set(name, draw) : undefined,
    first,
  )
  const nextFrame = () => {
    const draws = [...frame.values()]
    frame.clear()
    for (const draw of draws) draw()
  }
  let trouble: (t: Trouble) => void = () => {}
  const stop = tracing.start((onTrouble) => {
    trouble = onTrouble
    return tracer
  })
  nextFrame()
  return {
    design,
    result,
    missing,
    asked: requests,
    calls,
    tracing,
    nextFrame,
    stop,
    trouble: (t: Trouble) => trouble(t),
  }
}
/** Another light, told apart by its size. */
const resized = (sizeMm: number) => (lamp: Lamp) => ({ ...lamp, face: { ...lamp.face, sizeMm } })
const sheet = (state: Sheet['state'], rays = 1000): Sheet => ({ ...fakeSheet(gannetHead()), state, rays })

test('the lamp is traced at once, and sheets sharpen it until settled', () => {
  const b = bench()
  expect(b.asked).toHaveLength(1)
  expect(b.result.getState()).toMatchObject({ trace: 'tracing', sheet: null, stale: false })
  b.asked[0]!.onSheet(sheet('rough'))
  expect(b.result.getState()).toMatchObject({ trace: 'tracing', stale: false })
  b.asked[0]!.onSheet(sheet('settled'))
  expect(b.result.getState().trace).toBe('settled')
})

test('a severe finding stays, marked, until a settled sheet does not show it', () => {
  const b = bench()
  const severe = fakeSheet(gannetHead()).findings.find((f) => f.severity === 'severe')!
  const other = { ...severe, rule: 'other', title: 'Another' }
  const show = (state: Sheet['state'], findings: Sheet['findings']) =>
    b.asked[0]!.onSheet({ ...sheet(state), findings })
  const titles = () => b.result.getState().sheet!.findings.map((f) => f.title)
  show('rough', [severe])
  for (const state of ['rough', 'settling'] as const) {
    show(state, [other])
    expect(titles()).toEqual(['Another', `Perhaps still: ${severe.title}`])
  }
  show('settling', [severe])
  expect(titles()).toEqual([severe.title, 'Perhaps still: Another'])
  show('settled', [severe])
  expect(titles()).toEqual([severe.title])
})

test('many edits before a frame are one trace; the old sheet is stale at once', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('settled'))
  for (let i = 0; i < 20; i++) b.design.edit('Size', resized(300 + i))
  expect(b.asked).toHaveLength(1)
  expect(b.result.getState().stale).toBe(true)
  expect(b.result.getState().sheet).not.toBeNull()
  b.nextFrame()
  expect(b.asked).toHaveLength(2)
  expect(b.asked[1]!.lamp.face.sizeMm).toBe(319)
})

test('edits faster than first sheets: each trace gives one, stale, then the newest lamp is traced', () => {
  const b = bench()
  for (const sizeMm of [301, 302, 303]) {
    b.design.edit('Size', resized(sizeMm))
    b.nextFrame()
  }
  expect(b.asked).toHaveLength(1)
  b.asked[0]!.onSheet(sheet('rough', 7))
  expect(b.result.getState()).toMatchObject({ stale: true, trace: 'tracing', sheet: { rays: 7 } })
  expect(b.asked).toHaveLength(2)
  expect(b.asked[1]!.lamp.face.sizeMm).toBe(303)
  b.asked[1]!.onSheet(sheet('rough', 8))
  expect(b.result.getState()).toMatchObject({ stale: false, sheet: { rays: 8 } })
})

test('a sheet or a failure of a trace that has been replaced is dropped', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('rough', 6))
  b.design.edit('Size', resized(300))
  b.nextFrame()
  b.asked[0]!.onSheet(sheet('settled', 7))
  b.asked[0]!.onFail('too late')
  expect(b.result.getState()).toMatchObject({ stale: true, sheet: { rays: 6 }, trace: 'tracing', why: '' })
})

test('a first sheet that is being read lets the next lamp be traced; it still arrives, once, unless a newer one was there', () => {
  const b = bench()
  const shown = () => b.result.getState().sheet?.rays
  b.design.edit('Size', resized(301))
  b.nextFrame()
  expect(b.asked).toHaveLength(1)
  b.asked[0]!.onHandedOver()
  expect(b.asked).toHaveLength(2)
  b.design.edit('Size', resized(302))
  b.nextFrame()
  expect(b.asked).toHaveLength(2)
  b.asked[1]!.onHandedOver()
  expect(b.asked[2]!.lamp.face.sizeMm).toBe(302)
  b.asked[0]!.onSheet(sheet('rough', 7))
  expect(b.result.getState()).toMatchObject({ stale: true, trace: 'tracing', sheet: { rays: 7 } })
  expect(b.asked).toHaveLength(3) // the newest lamp is being traced already
  b.asked[2]!.onSheet(sheet('rough', 9))
  expect(b.result.getState()).toMatchObject({ stale: false, sheet: { rays: 9 } })
  b.asked[1]!.onSheet(sheet('rough', 8)) // overtaken
  b.asked[0]!.onSheet(sheet('settling', 10)) // a second one of an old lamp
  b.asked[0]!.onHandedOver()
  expect(shown()).toBe(9)
  expect(b.asked).toHaveLength(3)
})

test('a first sheet of the lamp before does not replace that of another lamp that was opened, nor a failure', () => {
  const b = bench()
  b.asked[0]!.onHandedOver()
  b.design.open({ ...resized(300)(b.design.lamp()), name: 'other' })
  b.nextFrame()
  b.asked[0]!.onSheet(sheet('rough', 7))
  expect(b.result.getState().sheet).toBeNull()
  b.asked[1]!.onHandedOver()
  b.design.edit('Size', resized(301))
  b.nextFrame()
  b.asked[1]!.onSheet(sheet('rough', 8))
  expect(b.result.getState().sheet).toMatchObject({ rays: 8 })
  b.asked[2]!.onHandedOver()
  b.design.edit('Size', resized(302))
  b.nextFrame()
  b.asked[3]!.onFail('The tracer stopped.')
  b.asked[2]!.onSheet(sheet('rough', 9))
  expect(b.result.getState()).toMatchObject({ trace: 'failed', sheet: { rays: 8 } })
})

test('another lamp does not wait for the first sheet of the one before it', () => {
  const b = bench()
  b.design.open({ ...resized(300)(b.design.lamp()), name: 'other' })
  b.nextFrame()
  expect(b.asked.at(-1)!.lamp.name).toBe('other')
  b.asked[0]!.onSheet(sheet('rough', 7))
  expect(b.result.getState().sheet).toBeNull()
})

test('a failure shows its reason', () => {
  const b = bench()
  b.asked[0]!.onFail('The tracer stopped.')
  expect(b.result.getState()).toMatchObject({ trace: 'failed', why: 'The tracer stopped.' })
})

test('pause and resume; an edit while paused traces anew', () => {
  const b = bench()
  b.tracing.pause()
  expect(b.result.getState().trace).toBe('paused')
  b.asked[0]!.onSheet(sheet('settling'))
  expect(b.result.getState().trace).toBe('paused')
  b.tracing.resume()
  expect(b.result.getState().trace).toBe('tracing')
  expect(b.calls).toEqual(['pause', 'resume'])
  b.tracing.pause()
  b.design.edit('Size', resized(300))
  b.nextFrame()
  expect(b.result.getState().trace).toBe('tracing')
})

test('once settled, the pause still holds the sun and the comparisons, and an end leaves nothing to hold', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('settled'))
  expect(b.result.getState()).toMatchObject({ trace: 'settled', atWork: true })
  b.tracing.pause()
  expect(b.result.getState().trace).toBe('paused')
  b.asked[0]!.onSheet(sheet('settled')) // on its way when the pause came
  expect(b.result.getState().trace).toBe('paused')
  b.tracing.resume()
  expect(b.result.getState().trace).toBe('settled')
  b.asked[0]!.onEnd()
  expect(b.result.getState().atWork).toBe(false)
  b.tracing.pause()
  expect(b.result.getState().trace).toBe('settled')
  expect(b.calls).toEqual(['pause', 'resume'])
})

test('words alone start no trace: name, note, names of parts', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('settled'))
  b.design.edit('Name', (lamp) => ({ ...lamp, name: 'new', note: 'more', target: { ...lamp.target, name: 'Boat' } }))
  b.design.edit('Emitter', (lamp) => ({ ...lamp, emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, name: 'E' })) }))
  b.nextFrame()
  expect(b.asked).toHaveLength(1)
  expect(b.result.getState()).toMatchObject({ stale: false, trace: 'settled' })
  b.design.edit('Size', resized(300))
  b.nextFrame()
  expect(b.asked).toHaveLength(2)
})

test('a part that a finding calls by its old name is traced anew', () => {
  const b = bench()
  const { name } = b.design.lamp().opticTypes[0]!
  const texts = { ...sheet('settled') }
  texts.findings = [{ ...texts.findings[0]!, title: `“${name}” can’t give 3°.` }]
  b.asked[0]!.onSheet(texts)
  b.design.edit('Optic', (lamp) => ({ ...lamp, opticTypes: lamp.opticTypes.map((o) => ({ ...o, name: 'Other' })) }))
  b.nextFrame()
  expect(b.asked).toHaveLength(2)
})

test('another precision traces on to it; stopping disposes of everything', () => {
  const b = bench()
  b.result.setState({ precision: 0.002 })
  b.nextFrame()
  expect(b.asked.at(-1)!.options.precision).toBe(0.002)
  b.stop()
  b.design.edit('Size', resized(300))
  b.nextFrame()
  expect(b.asked).toHaveLength(2)
  expect(b.calls).toEqual(['dispose'])
})

test('a sheet that another overtakes before the next frame is never shown; the last one always is', () => {
  const b = bench({ waits: true })
  const shown: number[] = []
  b.result.subscribe(({ sheet: s }, before) => {
    if (s && s !== before.sheet) shown.push(s.rays)
  })
  for (const rays of [1, 2, 3]) b.asked[0]!.onSheet(sheet('rough', rays))
  expect(shown).toEqual([])
  b.nextFrame()
  expect(shown).toEqual([3])
  b.asked[0]!.onSheet(sheet('settled', 4))
  b.asked[0]!.onEnd()
  // Who waits for the end finds its last sheet there.
  expect(shown).toEqual([3, 4])
  expect(b.result.getState()).toMatchObject({ trace: 'settled', atWork: false })
})

test('the newest lamp is traced before the sheet of the one before is shown, and that one is stale', () => {
  const b = bench({ waits: true })
  b.design.edit('Size', resized(301))
  b.nextFrame()
  b.asked[0]!.onSheet(sheet('rough', 7))
  expect(b.result.getState().sheet).toBeNull()
  b.nextFrame()
  expect(b.asked[1]!.lamp.face.sizeMm).toBe(301)
  expect(b.result.getState()).toMatchObject({ stale: true, trace: 'tracing', sheet: { rays: 7 } })
})

test('a severe finding stays on the page until a settled sheet lacks it; another lamp starts anew', () => {
  const b = bench()
  const severe = () => b.result.getState().sheet!.findings.filter((f) => f.severity === 'severe').length
  const none = { ...sheet('rough'), findings: [] }
  b.asked[0]!.onSheet(sheet('rough'))
  const found = severe()
  expect(found).toBeGreaterThan(0)
  b.design.edit('Size', resized(301))
  b.nextFrame()
  b.asked[1]!.onSheet(none)
  expect(severe()).toBe(found)
  b.asked[1]!.onSheet(none)
  expect(severe()).toBe(found)
  b.asked[1]!.onSheet({ ...none, state: 'settled' })
  expect(severe()).toBe(0)
  b.asked[1]!.onSheet(sheet('settled'))
  b.design.open(resized(400)(gannetHead()))
  b.nextFrame()
  b.asked[2]!.onSheet(none)
  expect(severe()).toBe(0)
})

test('a tracer that is started again: the sheet stays, the beam is missing until the next one, and that drops no severe finding', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('settled'))
  const severe = () => b.result.getState().sheet!.findings.filter((f) => f.severity === 'severe').length
  const found = severe()
  expect(found).toBeGreaterThan(0)
  b.trouble({ why: 'The tracer stopped: boom.', restarts: true })
  expect(b.result.getState()).toMatchObject({ trace: 'failed', why: 'The tracer stopped: boom.', atWork: false })
  expect(severe()).toBe(found)
  expect(b.missing.getState().beam).toMatchObject({ why: 'The tracer stopped: boom.', restarts: true })
  b.asked[0]!.onSheet({ ...sheet('rough'), findings: [] })
  expect(b.missing.getState().beam).toBeNull()
  expect(b.result.getState()).toMatchObject({ trace: 'tracing', why: '', atWork: true })
  expect(severe()).toBe(found)
  b.asked[0]!.onSheet({ ...sheet('settling'), findings: [] })
  expect(severe()).toBe(found)
  b.asked[0]!.onSheet({ ...sheet('settled'), findings: [] })
  expect(severe()).toBe(0)
})

test('“Try again” starts the tracer and traces; of another lamp that fails no old sheet stays', () => {
  const b = bench()
  b.asked[0]!.onSheet(sheet('settled'))
  b.asked[0]!.onFail('out of memory')
  expect(b.missing.getState().beam).toMatchObject({ why: 'out of memory.', restarts: false })
  b.missing.getState().beam!.again()
  expect(b.calls).toEqual(['again'])
  expect(b.asked).toHaveLength(2)
  b.asked[1]!.onFail('out of memory')
  expect(b.result.getState().sheet).not.toBeNull()
  b.design.open(resized(300)(gannetHead()))
  b.nextFrame()
  expect(b.missing.getState().beam).toBeNull()
  b.asked[2]!.onFail('out of memory')
  expect(b.result.getState()).toMatchObject({ sheet: null, trace: 'failed' })
  expect(b.missing.getState().beam).not.toBeNull()
})

test('a lamp that can’t be traced is no failure that trying again mends; the next sheet ends it', () => {
  const b = bench()
  b.asked[0]!.onFail('The lamp gives no light', true)
  expect(b.missing.getState().beam).toMatchObject({ why: 'The lamp gives no light.', restarts: false, ofLamp: true })
  b.design.edit('Size', resized(300))
  b.nextFrame()
  b.asked[1]!.onSheet(sheet('rough'))
  expect(b.missing.getState().beam).toBeNull()
})

test('what is looked at is traced first: the danger panel before comparisons in view before Night', () => {
  const of = (danger: boolean, comparisons: boolean, view: 'night' | 'plan') => firstOf(danger, { view, comparisons })
  expect(of(true, true, 'night')).toBe('sun')
  expect(of(false, true, 'night')).toBe('comparisons')
  expect(of(false, false, 'night')).toBe('beam')
  expect(of(false, false, 'plan')).toBeUndefined()
  // Each trace gets what was looked at when it began.
  let looked: TraceFirst = 'sun'
  const b = bench({ first: () => looked })
  b.asked[0]!.onSheet(sheet('rough'))
  b.nextFrame()
  looked = 'beam'
  b.design.edit('Size', resized(300))
  b.nextFrame()
  expect(b.asked.map(({ options }) => options.first)).toEqual(['sun', 'beam'])
})

// What follows for a new lamp, each number by hand from the ones before it.
import { describe, expect, test } from 'vitest'
import { type Answers, FIRST_ANSWERS } from '../../../src/job/start/answers.ts'
import { beginLamp, emptyLamp } from '../../../src/job/start/lamp.ts'
import { boardSites, follow } from '../../../src/job/start/light.ts'
import { loadOf, startPower, stringsOf } from '../../../src/job/start/supply.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import type { Lamp, Pack } from '../../../src/lamp/schema.ts'
import { fillFace } from '../../../src/layout/fill.ts'

const fifty: Answers = { ...FIRST_ANSWERS, boards: 50, perBoard: 6 }

const built = (answers: Answers): { lamp: Lamp; didNotFit: number } => {
  const { lamp, fill } = beginLamp(answers)
  const { boards, didNotFit } = fillFace(lamp, fill)
  return { lamp: { ...lamp, boards }, didNotFit }
}

describe('fifty boards of six, one die of 1.4 mm each', () => {
  // Optics of 10 mm, 2 mm between them: six on a circle whose radius is their pitch, 12 mm; the board 1 mm wider all round.
  test('the board', () => {
    const [type] = beginLamp(fifty).lamp.boardTypes
    expect(type?.outline).toEqual({ shape: 'disc', diameterMm: 36 })
    for (const s of type?.sites ?? []) expect(Math.hypot(s.xMm, s.yMm)).toBeCloseTo(12, 3)
  })
  test('the optic: sin² of half its width is 1.96 mm² over 78.5 mm², 18.2°; the next usual width', () => {
    expect(follow(fifty).opticDeg).toBe(20)
  })
  // Of a hexagonal lattice of 36.5 mm 43 places lie within √12 and 55 within √13 steps: 2 · 131.6 + 36 + 4 = 303.2 mm.
  test('the face, to the next 5 mm', () => {
    expect(follow(fifty).faceMm).toBe(305)
  })
  // 305 / (2 tan 6°) = 1450.9 mm, to the next 10 mm; the lens 95 % of that before the optics' 12 mm; twice the face across.
  test('the lens, and the tunnel up to 10 mm before it', () => {
    expect(follow(fifty)).toMatchObject({ focalMm: 1460, lensZMm: 1399, lensMm: 610, tunnelMm: 1399 - 10 - 14 })
  })
  test('a focal length that is typed takes lens and tunnel with it', () => {
    const typed = { focalMm: 1000 }
    expect(follow({ ...fifty, typed })).toMatchObject({ focalMm: 1000, lensZMm: 962, lensMm: 610, tunnelMm: 938 })
  })
  // 2.96 V at 1 A, 7 % more at −20 °C: 19.00 V a board, 50 of them through 93 %: 1021.7 W.
  test('the load', () => {
    const load = loadOf(fifty, follow(fifty))
    expect(load.boardV).toBeCloseTo(19.003, 3)
    expect(load.inputW).toBeCloseTo(1021.7, 1)
  })
  // (19.0 + 2) / 0.95 = 22.1 V: 8 cells of 3 V. 1021.7 W / 22.8 V = 44.8 A: 8 cells of 6 A. A quarter more is 56 A.
  test('the pack and its fuse; the wire that bears 60 A in air of 40 °C', () => {
    const power = startPower(fifty, follow(fifty))
    expect(power?.supply).toMatchObject({
      kind: 'pack',
      series: 8,
      parallel: 8,
      protectionA: 60,
    } satisfies Partial<Pack>)
    // 85 A · √(35/45) = 75 A of AWG 4; AWG 6 bears 57 A.
    expect(power?.harness.main).toMatchObject({ gauge: { number: 4 }, fuse: { amps: 60 } })
    expect(power?.drivers[0]).toMatchObject({ kind: 'buck', maxOutputA: 1 })
    expect(power?.modes.map((m) => m.name)).toEqual(['Low', 'Middle', 'Full'])
  })
  test('mains: the next usual voltage over 22.1 V, a quarter more than 42.6 A', () => {
    const answers: Answers = { ...fifty, supply: 'fixed' }
    expect(startPower(answers, follow(answers))?.supply).toMatchObject({ kind: 'fixed', volts: 24, maxA: 54 })
  })
})

test.each([
  ['one-die-3.5', 20],
  ['one-die-5', 30],
  ['small-die-5', 12],
  ['four-die-7', 45], // 12.96 mm² through an exit of 14 mm: 33.7°
])('étendue: %s, %d°', (emitter, deg) => {
  expect(follow({ ...FIRST_ANSWERS, emitter }).opticDeg).toBe(deg)
})

test('strings: the fewest of one length, each under 34 V', () => {
  expect(stringsOf(6, 3)).toBe(1)
  expect(stringsOf(6, 12.9)).toBe(3)
  expect(stringsOf(7, 12.9)).toBe(7)
  expect(stringsOf(20, 3)).toBe(2)
})

test.each([1, 2, 3, 5, 6, 7, 10, 13, 19, 30])('%d emitters stand apart by their pitch, about the middle', (count) => {
  const sites = boardSites(count, 10)
  expect(sites).toHaveLength(count)
  for (const [i, a] of sites.entries())
    for (const b of sites.slice(i + 1)) expect(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)).toBeGreaterThan(9.999)
  const off =
    Math.hypot(
      sites.reduce((x, s) => x + s.xMm, 0),
      sites.reduce((y, s) => y + s.yMm, 0),
    ) / count
  expect(off).toBeLessThan(4)
})

test.each(['round', 'hexagon', 'square'] as const)(
  'a %s face holds as many boards as it was made for, and the lamp is valid',
  (face) => {
    for (const boards of [1, 2, 5, 13, 19, 50])
      for (const emitter of ['one-die-3.5', 'four-die-7']) {
        const { lamp, didNotFit } = built({ ...FIRST_ANSWERS, face, boards, emitter, perBoard: 6 })
        expect(didNotFit).toBe(0)
        expect(lamp.boards).toHaveLength(boards)
        expect(readLamp(lamp)).toMatchObject({ ok: true })
      }
  },
)

test('each step may be left out', () => {
  for (const part of [
    { tunnel: null },
    { lens: false },
    { optic: 'bare' },
    { supply: 'unsaid' },
    { lens: false, tunnel: null },
  ] as const)
    expect(readLamp(built({ ...fifty, ...part }).lamp)).toMatchObject({ ok: true })
})

test('more than one main fuse can carry: no supply', () => {
  const answers: Answers = { ...FIRST_ANSWERS, boards: 1000, perBoard: 10, emitter: 'four-die-7' }
  expect(startPower(answers, follow(answers))).toBeNull()
})

test('an empty lamp', () => {
  const lamp = emptyLamp('Bare face')
  expect(readLamp(lamp)).toMatchObject({ ok: true })
  expect(lamp).toMatchObject({ name: 'Bare face', note: '', boards: [], tunnel: null, lens: null })
})

// Rays in the document: seven 16-bit numbers each. The way there and back, by formulas written out here; what is refused, in words.
import { describe, expect, test } from 'vitest'
import { frontZMm, startRadiusMm } from '../../src/lamp/front.ts'
import { jsonSchemaText } from '../../src/lamp/jsonSchema.ts'
import { RAY_SIZE, rayCount, raysOf } from '../../src/lamp/rays.ts'
import { readLamp, readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { EmitterRays } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { expectWithin } from '../kit/expect.ts'
import { documentRays, lambertianRays, type TestRay } from '../kit/rayFile.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const lampWith = (rays: unknown) => {
  const lamp = DEMOS['gannet-head']!()
  return { ...lamp, emitterTypes: lamp.emitterTypes.map((e, i) => (i === 0 ? { ...e, rays } : e)) }
}

const words = (...values: number[]) => Buffer.from(new Uint16Array(values).buffer).toString('base64')

const whyOf = (over: Partial<EmitterRays>): string => {
  const read = readLamp(lampWith({ ...documentRays(lambertianRays(20, 1)), ...over }))
  return read.ok ? 'read' : read.why.join(' ')
}

describe('by the formulas of the schema', () => {
  const rays = (packed: string): EmitterRays => ({
    ...documentRays([{}]),
    fromMm: [-1, -2, 3],
    toMm: [1, 2, 5],
    packed,
  })
  test('the middle of the direction’s square is the axis; the ends of the numbers are the ends of box and band', () => {
    const rows = raysOf(
      rays(words(0, 65_535, 0, 32_767, 32_767, 0, 65_535, 65_535, 0, 65_535, 32_767, 32_767, 65_535, 0)),
    )
    expect([...rows.subarray(0, 8)]).toEqual([-1, 2, 3, 0, 0, 1, 380, 1])
    expect([...rows.subarray(8, 16)]).toEqual([1, -2, 5, 0, 0, 1, 780, 0])
  })
  test('a level direction lies on the unit circle, a twofold weight 2048 numbers apart', () => {
    const q = Math.round(32_767 + 32_767 / Math.SQRT2)
    const rows = raysOf(rays(words(0, 0, 0, q, 32_767, 30_000, 65_535 - 2048)))
    expectWithin(rows[3]!, 1, { abs: 1e-9, because: 'the cosine of 3e-5' })
    expectWithin(rows[5]!, 0, { abs: 6e-5, because: 'a number of the direction' })
    expect(rows[7]).toBe(0.5)
    expectWithin(rows[6]!, 380 + (400 * 30_000) / 65_535, { abs: 1e-4, because: 'single precision' })
  })
  test('whatever stands there is a ray: unit directions, places in the box', () => {
    const random = seededRandom(5)
    const all = Array.from({ length: 7 * 4000 }, () => Math.floor(65_536 * random()))
    const rows = raysOf(rays(words(...all)))
    expect(rows.length).toBe(4000 * RAY_SIZE)
    for (let at = 0; at < rows.length; at += RAY_SIZE) {
      expectWithin(Math.hypot(rows[at + 3]!, rows[at + 4]!, rows[at + 5]!), 1, {
        abs: 1e-6,
        because: 'single precision',
      })
      expect(rows[at]! >= -1 && rows[at]! <= 1 && rows[at + 2]! >= 3 && rows[at + 2]! <= 5).toBe(true)
      expect(rows[at + 6]! >= 380 && rows[at + 6]! <= 780 && rows[at + 7]! >= 0 && rows[at + 7]! <= 1).toBe(true)
    }
  })
})

test('there and back: places within the box’s 65,535th, directions within 7e-5, weights within 0.02 %', () => {
  const random = seededRandom(3)
  const rays: TestRay[] = Array.from({ length: 3000 }, () => {
    const [c, a] = [2 * random() - 1, 2 * Math.PI * random()]
    const s = Math.sqrt(1 - c * c)
    return {
      place: [20 * random() - 5, 4 * random(), random()],
      direction: [s * Math.cos(a), s * Math.sin(a), c],
      watts: 10 ** (4 * random()),
      nm: 380 + 400 * random(),
    }
  })
  const rows = raysOf(documentRays(rays))
  const top = Math.max(...rays.map((r) => r.watts!))
  for (const [i, r] of rays.entries()) {
    const at = i * RAY_SIZE
    for (let k = 0; k < 3; k++) {
      expectWithin(rows[at + k]!, r.place![k]!, {
        abs: 20 / 65_535,
        because: 'half a step of the box, and single precision',
      })
      expectWithin(rows[at + 3 + k]!, r.direction![k]!, {
        abs: r.direction![2] > 0 ? 7e-5 : r.direction![2] > -0.9 ? 2e-4 : 0.02,
        because: 'half a step of the square; near straight down the circle’s edge',
      })
    }
    expectWithin(rows[at + 6]!, r.nm!, { abs: 0.004, because: 'half a step of 400 nm' })
    expectWithin(rows[at + 7]! * top, r.watts!, { rel: 2e-4, because: 'half a step of 2^(1/2048)' })
  }
})

test('a document with rays is read, written and read again as it was; its text stays small', () => {
  const lamp = lampWith(documentRays(lambertianRays(32_768, 2)))
  const read = readLamp(lamp)
  if (!read.ok) throw new Error(read.why.join(' '))
  const text = writeLampText(read.lamp)
  const again = readLampText(text)
  expect(again.ok && again.lamp).toEqual(read.lamp)
  expect(rayCount(read.lamp.emitterTypes[0]!.rays!)).toBe(32_768)
  expect(text.length).toBeLessThan(700_000)
  expect(jsonSchemaText()).toContain('"fileSha256"')
})

test('the lamp’s front reaches as far as its rays’ starts, the emitter across them', () => {
  const rays = documentRays([{ place: [3, 0, 0] }, { place: [0, 4, 30] }])
  expect(frontZMm(oneEmitter({ heightMm: 2, rays }))).toBe(32)
  expect(frontZMm(oneEmitter({ heightMm: 2 }))).toBe(2)
  const bare = { kind: 'bare', id: 'b', name: '' } as const
  expect(startRadiusMm({ source: { shape: 'disc', diameterMm: 1 }, rays }, bare)).toBe(5)
  expect(startRadiusMm({ source: { shape: 'disc', diameterMm: 1 } }, bare)).toBe(0.5)
})

describe('refused in words', () => {
  test.each([
    ['half a ray', { packed: words(1, 2, 3, 4) }, /packed: 8 bytes of base64; expected 14 for each ray/],
    ['none', { packed: '' }, /packed: 0 bytes/],
    ['not base64', { packed: '*' }, /packed: "\*" does not fit; expected base64/],
    ['no whole groups', { packed: 'AAAAA' }, /packed: 0 bytes/],
    ['rays without weight', { packed: words(0, 0, 0, 32_767, 32_767, 0, 0) }, /packed: no ray has any weight/],
    ['a box inside out', { fromMm: [0, 0, 9] as [number, number, number] }, /toMm: does not fit/],
    ['another hash', { fileSha256: 'x' }, /fileSha256: "x" does not fit; expected 64 digits/],
    ['too many', { packed: 'A'.repeat(700_000) }, /packed: .* expected a text of at most 611672/],
  ])('%s', (_, over, why) => expect(whyOf(over)).toMatch(why))

  test('more than eight whole files', () => {
    const rays = documentRays(lambertianRays(32_768, 2))
    const lamp = DEMOS['gannet-head']!()
    const types = Array.from({ length: 9 }, (_, i) => ({
      ...lamp.emitterTypes[0]!,
      id: i === 0 ? lamp.emitterTypes[0]!.id : `e${i}`,
      rays,
    }))
    const read = readLamp({ ...lamp, emitterTypes: types })
    expect(read.ok || read.why.join(' ')).toMatch(/294912 rays in all; at most 262144/)
  })
})

// What a builder reads when a file doesn't fit, word for word.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { conicSag, lensSpan } from '../../src/lamp/body.ts'
import { readLamp, readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'

type Json = Record<string, unknown>
const demo = () => structuredClone(gannetHead()) as unknown as Json

/** The demo with one entry changed, by its path as the messages write it. */
function withEntry(path: string, value: unknown, from: Json = demo()): Json {
  const steps = path.replace(/\[(\d+)\]/g, '.$1').split('.')
  let at = from
  for (const step of steps.slice(0, -1)) at = at[step] as Json
  at[steps.at(-1)!] = value
  return from
}

const why = (json: unknown): string[] => {
  const read = readLamp(json)
  return read.ok ? [] : read.why
}

describe('round trips', () => {
  test.each(Object.entries(DEMOS))('%s is what it was after writing and reading', (_, lamp) => {
    expect(readLampText(writeLampText(lamp()))).toEqual({ ok: true, lamp: lamp() })
  })

  test('so is any lamp of boards anywhere, with any currents and optics', () => {
    const board = fc.record({
      xMm: fc.double({ min: -500, max: 500, noNaN: true }),
      yMm: fc.double({ min: -500, max: 500, noNaN: true }),
      turnDeg: fc.double({ min: -360, max: 360, noNaN: true }),
      currentA: fc.double({ min: 0, max: 4, noNaN: true }),
      optic: fc.constantFrom('bare', 'collimator-12'),
      siteOptics: fc.dictionary(fc.constantFrom('0', '3', '6'), fc.constantFrom('bare', 'collimator-12')),
    })
    fc.assert(
      fc.property(fc.array(board, { maxLength: 40 }), (boards) => {
        const lamp: Lamp = { ...gannetHead(), boards: boards.map((b, i) => ({ id: `B${i}`, type: 'seven', ...b })) }
        const read = readLampText(writeLampText(lamp))
        // JSON has no minus zero.
        expect(read).toEqual({ ok: true, lamp: JSON.parse(JSON.stringify(lamp)) })
      }),
      { seed: 7, numRuns: 100 },
    )
  })
})

describe('field, value, what was expected', () => {
  test.each([
    ['face.sizeMm', 1e6, 'face.sizeMm: 1000000 does not fit; expected at most 2000.'],
    ['face.sizeMm', '200', 'face.sizeMm: "200" does not fit; expected a number.'],
    ['face.sizeMm', null, 'face.sizeMm: null does not fit; expected a number.'],
    ['face.sizeMm', undefined, 'face.sizeMm: nothing stands here; expected a number.'],
    [
      'face.shape',
      'oval',
      'face.shape: "oval" does not fit; expected "round" or "square" or "hexagon" or "rectangle" or "polygon".',
    ],
    ['boards[3].turnDeg', 400, 'boards[3].turnDeg: 400 does not fit; expected at most 360.'],
    ['boards[3].currentA', -1, 'boards[3].currentA: -1 does not fit; expected at least 0.'],
    ['boards[0].id', 'a/b', 'boards[0].id: "a/b" does not fit; expected letters, digits, space, and . _ + - only.'],
    ['boards', {}, 'boards: an object does not fit; expected a list.'],
    ['name', '', 'name: "" does not fit; expected a text of at least 1.'],
    ['opticTypes', [], 'opticTypes: a list of 0 does not fit; expected a list of at least 1.'],
    ['lens.grooves', 'left', 'lens.grooves: "left" does not fit; expected "target" or "source".'],
    ['lens.kind', 'mirror', 'lens.kind: "mirror" does not fit; expected "fresnel" or "solid" or "ideal".'],
    ['tunnel.sides', 6.5, 'tunnel.sides: 6.5 does not fit; expected 0 or a whole number.'],
    ['tunnel.sides', 2, 'tunnel.sides: 2 does not fit; expected at least 3.'],
    [
      'emitterTypes[0].spectrum.classK',
      2700,
      'emitterTypes[0].spectrum.classK: 2700 does not fit; expected 3000 or 4000 or 5000 or 6500.',
    ],
    ['boards[0].siteOptics', { a: 'bare' }, 'boards[0].siteOptics.a: no such entry; expected an emitter index.'],
    ['reading.sunTiltDeg', 91, 'reading.sunTiltDeg: 91 does not fit; expected at most 89.'],
  ])('%s = %j', (path, value, sentence) => {
    expect(why(withEntry(path, value))).toEqual([sentence])
  })

  test.each([
    ['face.margin', 'face.margin: no such entry (did you mean marginMm?).'],
    ['lens.focalMM', 'lens.focalMM: no such entry (did you mean focalMm?).'],
    ['boards[2].curentA', 'boards[2].curentA: no such entry (did you mean currentA?).'],
    ['colourOfTheBox', 'colourOfTheBox: no such entry.'],
    // Spelt right, but of another part.
    ['face.focalMm', 'face.focalMm: no such entry.'],
  ])('unknown entry %s', (path, sentence) => {
    expect(why(withEntry(path, 1))).toEqual([sentence])
  })

  test('what is no lamp at all', () => {
    expect(why(null)).toEqual(['The file holds no lamp: expected one JSON object.'])
    expect(why([])).toEqual(['The file holds no lamp: expected one JSON object.'])
    expect(why({})).toEqual(['format: expected "lamp"; this is some other kind of file.'])
    const read = readLampText('{"format": "lamp",')
    expect(read.ok ? '' : read.why[0]).toMatch(/^The file is no JSON: .+\.$/)
  })
})

describe('what fields must say together', () => {
  const boards = gannetHead().boards
  const e = '[0]' // the one emitter type
  test.each([
    ['boards[5].id', 'B2', 'boards[5].id: "B2" stands twice; each needs a name of its own.'],
    ['optic', 'none', 'optic: no optic type called "none"; there is collimator-12, bare.'],
    ['boards[1].type', 'six', 'boards[1].type: no board type called "six"; there is seven.'],
    ['boards[1].optic', 'x', 'boards[1].optic: no optic type called "x"; there is collimator-12, bare.'],
    ['boardTypes[0].emitter', 'y', 'boardTypes[0].emitter: no emitter type called "y"; there is small-die-5.'],
    ['boards[0].siteOptics', { 7: 'bare' }, 'boards[0].siteOptics.7: the board has 7 emitters, counted from 0.'],
    [
      'boards[0].siteOptics',
      { 0: 'z' },
      'boards[0].siteOptics.0: no optic type called "z"; there is collimator-12, bare.',
    ],
    ['tunnel.zOutMm', 14, 'tunnel.zOutMm: 14 does not fit; expected more than tunnel.zInMm (14).'],
    ['lens.zMm', 1000, 'lens.zMm: the lens reaches back to 1000 mm, into the tunnel that ends at 1040 mm.'],
    [
      `emitterTypes${e}.fluxByJunction`,
      [
        { junctionC: 85, factor: 1 },
        { junctionC: 25, factor: 1.1 },
      ],
      `emitterTypes${e}.fluxByJunction[1]: 25 does not fit; the column must rise.`,
    ],
    [
      `emitterTypes${e}.profile`,
      { kind: 'table', thetaDeg: [0, 30, 60], intensity: [1, 0.5] },
      `emitterTypes${e}.profile.intensity: 2 values for 3 angles.`,
    ],
    [
      `emitterTypes${e}.profile`,
      { kind: 'table', thetaDeg: [0, 30], intensity: [0, 0] },
      `emitterTypes${e}.profile.intensity: nowhere above zero.`,
    ],
    [
      `emitterTypes${e}.profile`,
      { kind: 'map', thetaDeg: [0, 30], phiDeg: [0, 90, 180], intensity: [[1, 1]] },
      `emitterTypes${e}.profile.intensity: 1 rows for 3 azimuths.`,
    ],
    [
      `emitterTypes${e}.spectrum`,
      { kind: 'table', power: Array(81).fill(0) },
      `emitterTypes${e}.spectrum.power: nowhere above zero.`,
    ],
    [
      `emitterTypes${e}.spectrum`,
      { kind: 'table', power: Array(81).fill(1e-7) },
      `emitterTypes${e}.spectrum.power: nowhere above 0.000001; give it in larger numbers.`,
    ],
    [
      `emitterTypes${e}.profile`,
      { kind: 'table', thetaDeg: [0, 30], intensity: [1e-7, 0] },
      `emitterTypes${e}.profile.intensity: nowhere above 0.000001; give it in larger numbers.`,
    ],
    [
      `emitterTypes${e}.forward`,
      [
        { currentA: 1, volts: 3 },
        { currentA: 1.0000005, volts: 3.1 },
      ],
      `emitterTypes${e}.forward[1]: 1.0000005 does not fit; the column must rise, by at least 0.000001.`,
    ],
    ['lens.focalMm', 27, 'lens.focalMm: 27 does not fit; expected at least 28, a twentieth of the diameter.'],
  ])('%s = %j', (path, value, sentence) => {
    expect(why(withEntry(path, value))).toEqual([sentence])
  })

  test('a solid lens must be thick enough for its curve', () => {
    const solid = { kind: 'solid', zMm: 1100, diameterMm: 200, radiusMm: 150, conic: 0, thicknessMm: 30 }
    const lens = { ...solid, curved: 'target', material: 'pmma' }
    expect(why({ ...demo(), lens })).toEqual([
      'lens.thicknessMm: 30 does not fit; a curve of 150 mm over 200 mm needs more than 38.2: nothing is left at its rim.',
    ])
    expect(why({ ...demo(), lens: { ...lens, thicknessMm: 39 } })).toEqual([])
    expect(why({ ...demo(), lens: { ...lens, radiusMm: 99 } })[0]).toMatch(
      /needs more than it can have: nothing is left at its rim\.$/,
    )
  })

  test('without a lens or a tunnel there is nothing to check on them', () => {
    expect(why({ ...demo(), lens: null, tunnel: null })).toEqual([])
  })

  test('several faults are all reported, a dozen at most', () => {
    const many = boards.map((b, i) => (i < 15 ? { ...b, type: 'six' } : b))
    const messages = why({ ...demo(), boards: many })
    expect(messages).toHaveLength(13)
    expect(messages[0]).toMatch(/^boards\[0\]\.type/)
    expect(messages[12]).toBe('… and 3 more.')
  })
})

describe('a hostile file is refused, and fast', () => {
  const board = gannetHead().boards[0]!
  const million = 1_000_000
  // Not a timed assertion: each of these took minutes or ended the program before there were limits.
  test.each<[string, () => unknown, RegExp]>([
    [
      'a million boards',
      () => ({ ...demo(), boards: Array(million).fill(board) }),
      /^boards: a list of 1000000 does not fit; expected a list of at most 2000\.$/,
    ],
    [
      'a million things that are no boards',
      () => ({ ...demo(), boards: Array(million).fill(null) }),
      /^boards: a list of 1000000 does not fit/,
    ],
    [
      'a hundred thousand unknown entries',
      () => ({ ...demo(), ...Object.fromEntries(Array.from({ length: 1e5 }, (_, i) => [`entry${i}`, 1])) }),
      /entry0: no such entry\..* …: 99996 more such entries\.$/,
    ],
    ['an entry a million letters long', () => ({ ...demo(), ['k'.repeat(million)]: 1 }), /^k{60}…: no such entry\.$/],
    ['a name a million letters long', () => ({ ...demo(), name: 'n'.repeat(million) }), /^name: "n{60}…" does not fit/],
    [
      'too many emitters in all',
      () => {
        const sites = Array(400).fill({ xMm: 0, yMm: 0 })
        const boards = Array.from({ length: 91 }, (_, i) => ({ ...board, id: `B${i}` }))
        return { ...demo(), boardTypes: [{ ...gannetHead().boardTypes[0], sites }], boards }
      },
      /^boards: 36400 emitters in all; at most 10000\.$/,
    ],
    ['too many grooves', () => withEntry('lens.pitchMm', 0.01), /^lens\.pitchMm: 0\.01 does not fit/],
  ])('%s', (_, json, sentence) => {
    expect(why(json())).toHaveLength(1)
    expect(why(json())[0]).toMatch(sentence)
  })

  test('nested a hundred thousand deep', () => {
    const deep = '['.repeat(1e5) + ']'.repeat(1e5)
    const read = readLampText(JSON.stringify(demo()).replace('"Gannet Head"', deep))
    expect(read).toEqual({ ok: false, why: ['name: a list of 1 does not fit; expected a text.'] })
  })

  test('no entry reaches the prototype', () => {
    const read = readLampText(JSON.stringify(demo()).replace('{', '{"__proto__":{"lens":null},'))
    expect(read).toEqual({ ok: false, why: ['__proto__: no such entry.'] })
  })

  test('any JSON at all gives sentences, never an exception', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(demo())), (value, key) => {
        const messages = why({ ...demo(), [key]: value })
        for (const line of messages) expect(line).toMatch(/\.$/)
      }),
      { seed: 11, numRuns: 300 },
    )
  })
})

test('depth of a conic: a sphere and a paraboloid by hand', () => {
  // Sphere R = 5 at r = 3: 5 - 4 = 1. Paraboloid: r² / 2R.
  expectWithin(conicSag(3, 5, 0), 1, { ulps: 4 })
  expectWithin(conicSag(3, 5, -1), 0.9, { ulps: 4 })
  expect(conicSag(6, 5, 0)).toBeNaN()
})

test('where a lens reaches, by kind and way round', () => {
  expect(lensSpan(lampWith({}).lens!)).toEqual([1050, 1050 + 3 + 1])
  expect(lensSpan(lampWith({ lens: { grooves: 'source', zMm: 1060 } }).lens!)).toEqual([1060 - 1, 1060 + 3])
  expect(lensSpan({ kind: 'ideal', zMm: 7, focalMm: 7, diameterMm: 5 })).toEqual([7, 7])
})

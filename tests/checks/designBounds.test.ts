// Rules of the document at their limits: boards with one emitter each, figures by hand.
import { describe, expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { acrossFlatsMm, pastWallMm, sectionAt } from '../../src/lamp/section.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { emitter, lampOf, narrow, type Optic } from '../kit/singleBoards.ts'

const gannet = gannetHead()
const find = (rule: string, lamp: Lamp) => checkDesign(lamp).filter((f) => f.rule === rule)
const one = (rule: string, lamp: Lamp) => find(rule, lamp)[0]

describe('layout', () => {
  const layout = (...places: [number, number][]) =>
    checkDesign(lampOf(places)).filter((f) => f.rule.startsWith('layout'))
  test.each<[string, [number, number][], string, string]>([
    [
      'layout-overlap',
      [
        [0, 0],
        [8, 0],
      ],
      'severe',
      'B1 and B2 overlap by 2 mm.',
    ],
    [
      'layout-clearance',
      [
        [0, 0],
        [10.2, 0],
      ],
      'warning',
      'B1 and B2 are 0.2 mm apart; 0.5 mm is wanted.',
    ],
    // The face's edge is at 100 mm.
    [
      'layout-overhang',
      [
        [0, 0],
        [97, 0],
      ],
      'severe',
      'B2 hangs over the edge of the face by 2 mm.',
    ],
    [
      'layout-margin',
      [
        [0, 0],
        [94, 0],
      ],
      'warning',
      'B2 is 1 mm from the edge of the face; 2 mm is wanted.',
    ],
  ])('%s', (rule, places, severity, title) => {
    const found = layout(...places)
    expect(found.map((f) => [f.rule, f.severity, f.title])).toEqual([[rule, severity, title]])
    const boardIndex = title.startsWith('B1') ? 0 : 1
    expect(found[0]!.place).toEqual({ kind: 'board', boardIndex })
  })
  test('keep-outs: covered or too near, by their reason where one is given', () => {
    const keepOut = (xMm: number, why: string) => {
      const hole = { shape: 'hole' as const, xMm, yMm: 0, diameterMm: 4, why }
      const lamp = lampOf([[0, 0]], { face: { ...gannet.face, keepOuts: [hole] } })
      return find('layout-keep-out', lamp).map((f) => [f.severity, f.title])
    }
    expect(keepOut(6, 'screw')).toEqual([['severe', 'B1 covers the keep-out “screw” by 1 mm.']])
    expect(keepOut(6, '')).toEqual([['severe', 'B1 covers a keep-out by 1 mm.']])
    expect(keepOut(7.25, 'screw')).toEqual([['severe', 'B1 is 0.25 mm from the keep-out “screw”; 0.5 mm is wanted.']])
    expect(keepOut(7.5, 'screw')).toEqual([])
  })
  test('an emitter whose middle isn’t on its board; on the very edge it is', () => {
    const at = (xMm: number) => {
      const lamp = lampOf([
        [30, 0],
        [-30, 0],
      ])
      const [type] = lamp.boardTypes
      const outline = { shape: 'rectangle', widthMm: 10, heightMm: 10 } as const
      const boards = lamp.boards.map((b) => ({ ...b, turnDeg: 90 }))
      return find('layout-emitter-off', {
        ...lamp,
        boards,
        boardTypes: [{ ...type!, outline, sites: [{ xMm, yMm: 0 }] }],
      })
    }
    expect(at(7).map((f) => [f.severity, f.title])).toEqual([
      ['severe', 'Emitter 1 of B1 is 2 mm beside its board, and so on 1 board like it.'],
    ])
    expect(at(5)).toEqual([])
  })
  test('optics wider than their boards', () => {
    const lamp = lampOf(
      [
        [0, 0],
        [10.5, 0],
      ],
      { optic: 'narrow', opticTypes: [narrow({ exitDiameterMm: 12 })] },
    )
    expect(one('layout-optics-overlap', lamp)).toMatchObject({
      severity: 'severe',
      title: 'Optics on B1 and B2 run into each other by 1.5 mm.',
    })
  })
  test('twelve of a kind are listed, the rest counted', () => {
    const ring = (n: number) =>
      layout(...Array.from({ length: n }, (_, i): [number, number] => [97 * Math.cos(i / 3), 97 * Math.sin(i / 3)]))
    expect(ring(12)).toHaveLength(12)
    expect(ring(12).map((f) => f.title.split(' ')[0])).toEqual(Array.from({ length: 12 }, (_, i) => `B${i + 1}`))
    expect(ring(14)).toHaveLength(13)
    expect(ring(14)[12]!.title).toBe('2 more of the same: B1 hangs over the edge of the face by 2 mm.')
  })
})

describe('the lens about its focus, 1000 mm', () => {
  const lens = { ...gannet.lens!, kind: 'ideal', focalMm: 1000, diameterMm: 560 } as unknown as NonNullable<
    Lamp['lens']
  >
  /** So far from emitters that are 2.5 mm high. */
  const at = (distanceMm: number, over: Partial<Lamp> = {}, wide = 560) =>
    checkDesign(
      lampOf(
        [
          [0, 0],
          [20, 0],
        ],
        { lens: { ...lens, zMm: 2.5 + distanceMm, diameterMm: wide } as Lamp['lens'], ...over },
      ),
    ).find((f) => f.rule.startsWith('lens-'))
  test('nearer than 2 % a picture of the array, farther than 15 % a warning, between the two a note', () => {
    const rules = (d: number) => [at(d)!.rule, at(d)!.severity]
    for (const d of [980.1, 1000, 1019.9]) expect(rules(d)).toEqual(['lens-at-focus', 'note'])
    for (const d of [979.9, 1020.1, 850.1, 1149.9]) expect(rules(d)).toEqual(['lens-off-focus', 'note'])
    for (const d of [849.9, 1150.1, 300]) expect(rules(d)).toEqual(['lens-off-focus', 'warning'])
    expect(at(1000)!.place).toEqual({ kind: 'part', part: 'lens' })
  })
  test('at its focus: where to move it; one emitter alone makes no picture', () => {
    expect(at(1000)!.title).toMatch(/^The lens stands at its focus \(1000 mm from the emitters, focal length 1000 mm\)/)
    // 2.5 + 0.95 · 1000, rounded to three digits.
    expect(at(1000)!.cure).toContain('to some 953 mm above the face')
    expect(at(1000, { boards: lampOf([[0, 0]]).boards })).toBeUndefined()
    expect(at(1000, { boards: [] })).toBeUndefined()
  })
  test('a lens level with the emitters or behind them has no focus to speak of', () => {
    expect([at(0), at(-1)]).toEqual([undefined, undefined])
    expect(at(1)).toBeDefined()
  })
  test('inside: the blur of a point, 2 atan(a |1/L − 1/f|), of the widest emitter', () => {
    // Bare, 120°: the lens's own 280 mm; 280 · (1/950 − 1/1000) → 1.69°.
    expect(at(950)!.title).toBe(
      'The lens stands 5 % of its focal length inside its focus (950 mm from the emitters, focal length 1000 mm).',
    )
    expect(at(950)!.why).toMatch(/spread over about 1\.69°\. A little of that melts/)
    // Collimators of 12°, 9.5 mm higher: 950 · tan 6° = 99.8 mm → 0.602°.
    const narrowAt = (boards: Partial<Lamp>) => at(959.5, { optic: 'narrow', ...boards })!.why
    expect(narrowAt({})).toContain('about 0.602°')
    // One of the two bare: 280 mm again, 954.75 mm away.
    const { boards } = lampOf([
      [0, 0],
      [20, 0],
    ])
    const mixed = boards.map((b, i) => (i === 0 ? { ...b, optic: 'bare' } : b))
    expect(narrowAt({ boards: mixed })).toContain('about 1.52°')
  })
  test('widths that no document states count as 60°, and none as more than 170°', () => {
    const reflector = {
      kind: 'reflector',
      id: 'bare',
      name: 'R',
      exitDiameterMm: 4,
      focalMm: 2,
      shiftZMm: 0,
    } as unknown
    // 950 · tan 30° = 548 mm: 2 atan(548 · 5.263e-5) = 3.31°.
    expect(at(950, { opticTypes: [reflector as Optic] }, 2000)!.why).toContain('about 3.31°')
    const profile = { kind: 'gaussian' as const, fwhmDeg: 175 }
    // 950 · tan 85° = 10 859 mm: 59.5°.
    expect(at(950, { emitterTypes: [{ ...emitter, profile }] }, 50_000)!.why).toContain('about 59.5°')
  })
  test('outside: where it comes together, 1/(1/f − 1/L)', () => {
    // 1/(1/1000 − 1/1200) = 6 m.
    expect(at(1200)!.title).toMatch(/^The lens stands 20 % of its focal length outside its focus/)
    expect(at(1200)!.why).toContain('It comes together 6 m in front of the lens')
    expect(at(1200)!.cure).toMatch(
      /^Set the lens nearer to 1003 mm above the face, .* focal length of about 1200 mm\.$/,
    )
    expect(at(1100)!.cure).toMatch(/^If it is meant, leave it/)
    expect(at(800)!.why).not.toContain('comes together')
  })
})

describe('emitters and the tunnel’s wall', () => {
  /** 50 mm at the face, 100 mm at 100 mm: 51.25 mm where the bare emitters start. */
  const tunnel = { ...gannet.tunnel!, sides: 0, zInMm: 0, zOutMm: 100, inMm: 100, outMm: 200 }
  const tunnelled = (places: [number, number][], over: Partial<typeof tunnel> = {}) =>
    lampOf(places, { tunnel: { ...tunnel, ...over } })
  const outside = (places: [number, number][], over = {}) => one('emitter-outside-tunnel', tunnelled(places, over))
  const small = (places: [number, number][], over = {}) => one('tunnel-smaller-than-array', tunnelled(places, over))
  test('outside: beyond the wall at their own height, where there is a wall', () => {
    expect([outside([[51.25, 0]]), outside([[51.26, 0]])?.severity]).toEqual([undefined, 'severe'])
    // From the inlet's own height on, up to the mouth.
    expect(outside([[60, 0]], { zInMm: 2.5 })).toBeDefined()
    expect(outside([[60, 0]], { zInMm: 2.6 })).toBeUndefined()
    expect(outside([[300, 0]], { zOutMm: 2.6 })).toBeDefined()
    expect(outside([[300, 0]], { zOutMm: 2.5 })).toBeUndefined()
    expect(one('emitter-outside-tunnel', lampOf([[60, 0]]))).toBeUndefined()
  })
  test('outside: one or several, at the first of them', () => {
    const f = outside([
      [0, 0],
      [60, 0],
    ])!
    expect(f.title).toBe('One emitter starts outside the tunnel’s wall: all of its light is lost.')
    expect(f.place).toEqual({ kind: 'emitter', boardIndex: 1, siteIndex: 0 })
    expect(f.why).toContain('from 0 mm above the face on')
    expect(
      outside([
        [60, 0],
        [0, 0],
        [0, 60],
      ])!.title,
    ).toMatch(/^2 emitters start outside/)
  })
  test('a rim that the inlet cuts by more than a hundredth of a millimetre: a warning', () => {
    // 50.25 + 1 reaches the wall at 51.25 mm.
    expect(small([[50.255, 0]])).toBeUndefined()
    const f = small([
      [50.75, 0],
      [0, 0],
      [51, 0],
    ])!
    expect(f).toMatchObject({ severity: 'warning', place: { kind: 'emitter', boardIndex: 2, siteIndex: 0 } })
    expect(f.title).toBe(
      'The tunnel’s inlet of 100 mm is smaller than the array: 2 emitters reach up to 0.75 mm past it.',
    )
    expect(f.cure).toMatch(/^Make the inlet at least 102 mm wide/)
    expect(small([[50.75, 0]])!.title).toMatch(/: 1 emitter reaches up to 0\.5 mm past it\.$/)
    const first = small([
      [51, 0],
      [50.75, 0],
    ])!
    expect(first.place).toEqual({ kind: 'emitter', boardIndex: 0, siteIndex: 0 })
    expect(first.title).toContain('up to 0.75 mm past it')
    // Wholly outside the wall is the other rule's.
    expect(small([[51.3, 0]])).toBeUndefined()
    expect(small([[50.75, 0]], { zOutMm: 2.5 })).toBeUndefined()
    expect(one('tunnel-smaller-than-array', lampOf([[60, 0]]))).toBeUndefined()
  })
  test('under the inlet: judged at the inlet; a middle beyond it is severe', () => {
    const f = small(
      [
        [49.5, 0],
        [60, 0],
      ],
      { zInMm: 10 },
    )!
    expect(f).toMatchObject({ severity: 'severe', place: { boardIndex: 1 } })
    expect(f.title).toContain('2 emitters reach up to 11 mm past it')
    expect(small([[50, 0]], { zInMm: 10 })!.severity).toBe('warning')
    expect(small([[49, 0]], { zInMm: 10 })).toBeUndefined()
  })
  test('with flats: the projection on the nearest flat’s normal', () => {
    expectWithin(acrossFlatsMm(4, 50, 50), 50, { rel: 1e-12, because: 'a corner of a square' })
    expectWithin(acrossFlatsMm(4, -30, 50), 50, { rel: 1e-12, because: 'a side of a square' })
    expectWithin(acrossFlatsMm(6, 0, 10), 10 * Math.cos(Math.PI / 6), {
      rel: 1e-12,
      because: 'a corner of a hexagon',
    })
    expectWithin(acrossFlatsMm(0, 50, 50), Math.hypot(50, 50), { ulps: 1 })
    expect(outside([[50, 50]], { sides: 4 })).toBeUndefined()
    expect(outside([[50, 50]])).toBeDefined()
    expect([0, 50, 100].map((z) => sectionAt(tunnel, z).xMm)).toEqual([50, 75, 100])
    expect([20, 70].map((z) => sectionAt({ ...tunnel, zInMm: 20, zOutMm: 120 }, z).xMm)).toEqual([50, 75])
  })
  test('with joints: the section of its own stretch, at a step the wider; of a rectangle past the nearer of two walls', () => {
    // 100 mm at the face to 120 at z = 50, there a step to 160, 200 at the end.
    const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
    const step = { ...tunnel, joints: [{ zMm: 50, belowMm: 120, aboveMm: 160, ...finish }] }
    expect([0, 25, 50, 75, 100].map((z) => sectionAt(step, z).xMm)).toEqual([50, 55, 80, 90, 100])
    const flat = { ...tunnel, sides: 4 as const, inHeightMm: 40, outHeightMm: 60 }
    expect(sectionAt(flat, 50)).toEqual({ xMm: 75, yMm: 25 })
    expect(pastWallMm(flat, { xMm: 70, yMm: 0, zMm: 50 })).toBe(-5)
    expect(pastWallMm(flat, { xMm: 70, yMm: 30, zMm: 50 })).toBe(5)
    expect(outside([[0, 30]], { sides: 4, inHeightMm: 40, outHeightMm: 60 })).toBeDefined()
    expect(small([[0, 20]], { zInMm: 10, sides: 4, inHeightMm: 40, outHeightMm: 60 })!.title).toMatch(
      /^The tunnel’s inlet of 100 mm × 40 mm is smaller than the array: 1 emitter reaches up to 1 mm past it\.$/,
    )
  })
})

describe('an array against the focal length', () => {
  const lens = { kind: 'ideal', focalMm: 1000, zMm: 900, diameterMm: 560 } as unknown as Lamp['lens']
  const wide = (xMm: number, over: Partial<Lamp> = {}) =>
    one(
      'array-too-wide-for-lens',
      lampOf(
        [
          [0, 0],
          [xMm, 0],
        ],
        { lens, optic: 'narrow', ...over },
      ),
    )
  test('2 atan(D/2f) against collimators of 12°: a note from 7.2° on, a warning from 10.8° on', () => {
    // D = 2 (x + 5): 2000 · tan 3.6° = 125.83, 2000 · tan 5.4° = 189.05.
    expect([57.9, 58, 89.5, 89.6].map((x) => wide(x)?.severity)).toEqual([undefined, 'note', 'note', 'warning'])
    expect(wide(58)!.title).toBe(
      'The array of 126 mm spreads over 7.21° behind a lens of 1000 mm focal length: the lens narrows 12° by little.',
    )
    // 126/(2 tan 3°).
    expect(wide(58)!.cure).toContain('1203 mm would halve the collimators’ width')
    expect(wide(58)!.place).toEqual({ kind: 'part', part: 'lens' })
    expect(wide(58, { lens: null })).toBeUndefined()
    expect(wide(58, { boards: [] })).toBeUndefined()
  })
  test('the narrowest emitter decides; what states no width counts as 180°', () => {
    const { boards } = lampOf([
      [0, 0],
      [58, 0],
    ])
    expect(wide(58, { boards: boards.map((b, i) => (i === 0 ? { ...b, optic: 'bare' } : b)) })).toBeDefined()
    expect(wide(58, { optic: 'bare' })).toBeUndefined()
    const reflector = {
      kind: 'reflector',
      id: 'narrow',
      name: 'R',
      exitDiameterMm: 10,
      focalMm: 2,
      shiftZMm: 0,
    } as unknown
    // 0.6 · 180° = 108°: 2 atan(D/2000) from D = 2753 mm on.
    const far = (x: number) => wide(x, { opticTypes: [reflector as Optic] })?.severity
    expect([far(1371), far(1372)]).toEqual([undefined, 'note'])
  })
})

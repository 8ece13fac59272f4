import { describe, expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import { brightnessRatio, smallestPossibleFwhmDeg } from '../../src/checks/design/etendue.ts'
import type { Finding } from '../../src/checks/finding.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead, iceRink, stileLamp, wideArray } from '../../src/library/demos.ts'
import { emitterById } from '../../src/library/emitters.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'

const of = (lamp: Lamp, rule: string): Finding | undefined => checkDesign(lamp).find((f) => f.rule === rule)
const rules = (lamp: Lamp) => checkDesign(lamp).map((f) => f.rule)
const gannet = gannetHead()
/** With the library's 2 mm die, whatever the example has. */
const twoMm = {
  emitterTypes: [emitterById('one-die-5')],
  boardTypes: [{ ...gannet.boardTypes[0]!, emitter: 'one-die-5' }],
}
const withDie = lampWith(twoMm)
const optic = (over: object) => ({ ...gannet.opticTypes[0]!, ...over }) as Lamp['opticTypes'][number]

describe('every finding', () => {
  test.each(Object.entries(DEMOS))('of %s says where, why and what to do', (_, make) => {
    for (const f of checkDesign(make())) {
      expect(f.rule).toMatch(/^[a-z]+(-[a-z]+)*$/)
      expect(f.title).toMatch(/\.$/)
      expect(f.why.length).toBeGreaterThan(40)
      expect(f.cure.length).toBeGreaterThan(10)
      expect(`${f.title}${f.why}${f.cure}`).not.toMatch(/NaN|undefined|Infinity|null/)
    }
  })
  test('severe ones come first', () => {
    const all = checkDesign({ ...wideArray(), boards: wideArray().boards.map((b) => ({ ...b, currentA: 9 })) })
    const rank = all.map((f) => ['severe', 'warning', 'note'].indexOf(f.severity))
    expect(rank).toEqual([...rank].sort())
  })
})

describe('étendue', () => {
  // Check-values 2.51: discs of 20 in 500 mm 2.292443°, 100 dies of 3.45 mm square in 500 mm 4.465463° (half angles), derived; the law:
  // Winston and Welford.
  test.each([
    [Math.PI * 10 * 10, Math.PI * 250 * 250, 2.292443],
    [Math.PI * 20 * 20, Math.PI * 250 * 250, 4.588566],
    [Math.PI * 30 * 30, Math.PI * 150 * 150, 11.536959],
    [1190.25, Math.PI * 250 * 250, 4.465463],
  ])('%d mm² in %d mm²: half angle %d°', (source, exit, half) => {
    expectWithin(smallestPossibleFwhmDeg(source, exit)!, 2 * half, { abs: 2e-6, because: 'as printed' })
  })
  test('an exit no larger than the emitter narrows nothing', () => {
    expect(smallestPossibleFwhmDeg(4, 4)).toBeNull()
  })
  test('12° from 10 mm on a 2 mm die breaks it, and the finding names the smallest possible width', () => {
    const f = of(withDie, 'etendue')!
    expect(f.severity).toBe('severe')
    expect(f.title).toBe(
      '“Collimator 12°, 10 mm” can’t give 12° on “5 mm, one die”: the smallest possible width is 26.1°.',
    )
    expect(checkDesign(withDie).filter((x) => x.rule === 'etendue')).toHaveLength(1)
  })
  test('brightness: exactly as bright as the emitter is allowed', () => {
    // Cosine of 120°, nothing lost, exit as large as the emitter: the emitter itself.
    const disc = { ...emitterById('one-die-5'), source: { shape: 'disc' as const, diameterMm: 10 } }
    const bare = optic({ fwhmDeg: 120, shape: 'cosine', efficiency: 1 }) as Extract<
      Lamp['opticTypes'][number],
      { kind: 'collimator' }
    >
    expectWithin(brightnessRatio(disc, bare), 1, { rel: 1e-9, because: '∫ cos θ dΩ = π' })
  })
  test('part of the light may go narrower: a warning only; wide enough: nothing', () => {
    expect(
      of(lampWith({ ...twoMm, opticTypes: [optic({ fwhmDeg: 22 }), gannet.opticTypes[1]!] }), 'etendue')!.severity,
    ).toBe('warning')
    expect(
      of(lampWith({ ...twoMm, opticTypes: [optic({ fwhmDeg: 27 }), gannet.opticTypes[1]!] }), 'etendue'),
    ).toBeUndefined()
  })
})

describe('tunnel and emitters', () => {
  test('the examples fit', () => {
    for (const lamp of [gannet, iceRink(), stileLamp()])
      expect(rules(lamp)).not.toEqual(expect.arrayContaining([expect.stringMatching(/tunnel/)]))
  })
  test('an emitter over the wall is severe', () => {
    // The optics stand 12 mm high; the tunnel starts at 5 mm and is 120 mm wide there.
    const f = of(lampWith({ tunnel: { zInMm: 5, inMm: 120 } }), 'emitter-outside-tunnel')!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/^\d+ emitters start outside the tunnel’s wall: all of their light is lost\.$/)
    expect(f.place.kind).toBe('emitter')
  })
  test('an inlet that cuts the rim of the optics warns, one that leaves emitters out is severe', () => {
    // The farthest optic ends at 72 + 12 + 5 = 89 mm.
    expect(of(lampWith({ tunnel: { inMm: 179 } }), 'tunnel-smaller-than-array')).toBeUndefined()
    expect(of(lampWith({ tunnel: { inMm: 176 } }), 'tunnel-smaller-than-array')!.severity).toBe('warning')
    const f = of(lampWith({ tunnel: { inMm: 140 } }), 'tunnel-smaller-than-array')!
    expect(f.severity).toBe('severe')
    expect(f.title).toMatch(/inlet of 140 mm is smaller than the array: \d+ emitters reach up to 19 mm past it/)
    expect(f.cure).toMatch(/at least 178 mm/)
  })
  test('a polygon is wider towards its corners', () => {
    const lamp = lampWith({ tunnel: { sides: 6, inMm: 174 } })
    const round = lampWith({ tunnel: { sides: 0, inMm: 174 } })
    const count = (l: Lamp) => Number(/: (\d+) emitter/.exec(of(l, 'tunnel-smaller-than-array')!.title)![1])
    expect(count(lamp)).toBeLessThanOrEqual(count(round))
  })
})

describe('lens', () => {
  test('smaller than the tunnel’s mouth', () => {
    expect(of(gannet, 'lens-smaller-than-mouth')).toBeUndefined()
    expect(of(lampWith({ lens: { diameterMm: 500 } }), 'lens-smaller-than-mouth')!.title).toMatch(
      /500 mm is smaller .* 560 mm: up to 20\.3 %/,
    )
  })
  test('a little inside its focus is a note with what it does; far off a warning; at it a picture of the array', () => {
    const a = of(gannet, 'lens-off-focus')!
    expect(a.severity).toBe('note')
    expect(a.title).toBe(
      'The lens stands 5.64 % of its focal length inside its focus (1038 mm from the emitters, focal length 1100 mm).',
    )
    const b = of(lampWith({ lens: { focalMm: 700 } }), 'lens-off-focus')!
    expect(b.severity).toBe('warning')
    expect(b.why).toMatch(/comes together .* in front of the lens before it spreads: a hot place/)
    const c = of(lampWith({ lens: { focalMm: 1038 } }), 'lens-at-focus')!
    expect(c.title).toMatch(/picture of the array/)
    expect(rules(benchCheck())).not.toContain('lens-at-focus')
  })
  test('wide array: reported before anyone buys the lens; the example lamp’s lens is not blamed', () => {
    const f = of(wideArray(), 'array-too-wide-for-lens')!
    expect(f.severity).toBe('warning')
    // 2·(3·45 + 12 + 5) = 304 mm; 2·atan(304/1240) = 27.6°.
    expect(f.title).toMatch(/array of 304 mm spreads over 27\.6° .* no narrower than its collimators, 12°/)
    expect(of(gannet, 'array-too-wide-for-lens')!.severity).toBe('note')
  })
})

describe('electrical and layout', () => {
  test('too much current: one finding for boards alike', () => {
    const f = checkDesign({ ...withDie, boards: withDie.boards.map((b) => ({ ...b, currentA: 5 })) }).filter(
      (x) => x.rule === 'over-current',
    )
    expect(f).toHaveLength(1)
    expect(f[0]!.title).toBe('19 boards at 5 A: the emitter “5 mm, one die” bears 4 A at most.')
    expect(f[0]!.severity).toBe('severe')
  })
  test('no boards', () => {
    expect(checkDesign({ ...gannet, boards: [] }).map((f) => [f.rule, f.severity])).toEqual([['no-emitters', 'severe']])
  })
  test('boards that overlap are reported by name', () => {
    const boards = gannet.boards.map((b, i) => (i === 1 ? { ...b, xMm: 20, yMm: 0 } : b))
    const f = of({ ...gannet, boards }, 'layout-overlap')!
    expect(f.title).toMatch(/^B1 and B2 overlap by 15 mm\.$/)
    expect(f.severity).toBe('severe')
    expect(rules(gannet).filter((r) => r.startsWith('layout'))).toEqual([])
  })
})

import { describe, expect, test } from 'vitest'
import { collectPassing, readEye } from '../../src/hazard/eye.ts'
import { blueSeconds, FIELDS_RAD, thermalSeconds } from '../../src/hazard/eyeLimits.ts'
import { expectWithin } from '../kit/expect.ts'
import { eyeRaysOf, type HandRay } from '../kit/leavingLight.ts'

const NO_BOUND = { blueWm2sr: 1e18, thermalWm2sr: 1e18 }
const T95 = 2.131
const single = { rel: 1e-6, because: 'single precision' }
const D = 300
/** Parallel to the axis, r mm off it. */
const straight = (r: number, over: Partial<HandRay> = {}): HandRay => ({ at: [r, 0, 0], towards: [0, 0, 1], ...over })
const times = (n: number, ray: (k: number) => HandRay): HandRay[] => Array.from({ length: n }, (_, k) => ray(k))
const read = (rays: readonly HandRay[], source = NO_BOUND) =>
  readEye(eyeRaysOf(rays), { xMm: 0, yMm: 0, zMm: D }, { distanceMm: D, angleDeg: 7 }, source)
/** 1/m² of the pupil of a level: 3.5 mm, each half as wide again. */
const perM2 = (level: number) => 1e6 / (Math.PI * (3.5 * 1.5 ** level) ** 2)
const sr = (rad: number) => (Math.PI / 4) * rad ** 2

describe('rays that pass near a place', () => {
  const at = (zMm: number, over: { xMm?: number; yMm?: number; raysPerMm2?: number } = {}) => ({
    xMm: 0,
    yMm: 0,
    zMm,
    ...over,
  })
  const levels = (d: number, raysPerMm2?: number) =>
    collectPassing(eyeRaysOf([]), [at(d, raysPerMm2 === undefined ? {} : { raysPerMm2 })], d)[0]!.counts.length - 1
  test('the pupil goes up to 60 mm or 3 % of the distance, no farther than 9000 rays need, in steps of a half', () => {
    // ln(60/3.5)/ln 1.5 = 7.01; ln(150/3.5)/ln 1.5 = 9.27.
    expect([levels(300), levels(2000), levels(5000), levels(300, 0)]).toEqual([7, 7, 9, 7])
    // √(9000/10 π) = 16.9 mm: 3.89; √(9000/100 π) = 5.35 mm: 1.05; less than the eye's own pupil: 0.
    expect([levels(300, 10), levels(300, 100), levels(300, 1000), levels(300, 0.001)]).toEqual([4, 1, 0, 7])
  })
  test('from the middle outwards, in each step in the order of the rays', () => {
    const radii = [59, 1, 8, 5, 0, 60, 3.5, 5.3, 3]
    const [passing] = collectPassing(eyeRaysOf(radii.map((r) => straight(r))), [at(D)], D)
    // Steps at 3.5, 5.25, 7.88, 11.8, 17.7, 26.6, 39.9, 59.8 mm.
    expect([...passing!.index]).toEqual([1, 4, 6, 8, 3, 7, 2, 0])
    expect(passing!.counts).toEqual([4, 5, 6, 7, 7, 7, 7, 8])
  })
  test('just at the edge of the pupil is within', () => {
    const [passing] = collectPassing(eyeRaysOf([straight(3.5), straight(3.501)]), [at(D, { raysPerMm2: 1000 })], D)
    expect(passing).toEqual({ index: Uint32Array.of(0), counts: [1] })
  })
  test('only light on its way there: not from beyond, nor from beside', () => {
    const rays = [
      straight(0, { at: [0, 0, 301] }),
      straight(2, { at: [2, 0, 300] }),
      straight(2, { at: [2, 0, 299] }),
      straight(0, { towards: [0, 0, -1] }),
    ]
    expect(collectPassing(eyeRaysOf(rays), [at(D)], D)[0]!.counts[0]).toBe(1)
    expect([...collectPassing(eyeRaysOf(rays), [at(D)], D)[0]!.index]).toEqual([2])
  })
  test('by their distance from a slanted ray: 28 mm (100² − 96²) for each, and for several places at once', () => {
    const ways: [number, number, number][] = [
      [0.6, 0, 0.8],
      [0, 0.6, 0.8],
      [0.48, 0.6, 0.64],
      [-0.6, 0, 0.8],
    ]
    // From (10, 20, 30) to 96 mm along it and 28 mm across.
    for (const [x, y, z] of ways) {
      const across = Math.hypot(x, y) > 0 ? [y / Math.hypot(x, y), -x / Math.hypot(x, y), 0] : [1, 0, 0]
      const other = [-x * z, -y * z, x * x + y * y].map((c) => c / Math.hypot(x, y))
      for (const side of [across, other]) {
        const place = (off: number) => ({
          xMm: 10 + 96 * x + off * side[0]!,
          yMm: 20 + 96 * y + off * side[1]!,
          zMm: 30 + 96 * z + off * side[2]!,
        })
        const rays = eyeRaysOf([{ at: [10, 20, 30], towards: [x, y, z] }])
        const got = collectPassing(rays, [place(28), place(3), place(61), place(26)], D)
        // Steps: 26.6 mm is the fifth, 39.9 the sixth.
        expect(got.map((p) => p.counts.indexOf(1))).toEqual([6, 0, -1, 5])
      }
    }
  })
  test('as many as there are', () => {
    const rays = times(5000, (k) => straight(k % 2 === 0 ? 0 : 5))
    const [passing] = collectPassing(eyeRaysOf(rays), [at(D)], D)
    expect(passing!.counts).toEqual([2500, ...new Array(7).fill(5000)])
    expect(passing!.index.length).toBe(5000)
    expect([passing!.index[0], passing!.index[2499], passing!.index[2500], passing!.index[4999]]).toEqual([
      0, 4998, 1, 4999,
    ])
  })
})

describe('how wide the pupil is', () => {
  test('400 rays in its middle and none about it: 7 mm', () => {
    expectWithin(read(times(400, () => straight(0))).irradianceWm2, perM2(0) * (400 + T95), single)
  })
  test('36 rays: by chance 7 mm may hold 9 as well, so 10.5 mm are as even, 15.8 mm no more', () => {
    // 36 − 4.5 · 6 = 9 on 12.25: 0.735; 36/27.56 = 1.31, 36/62.0 = 0.58 against 0.93 · 0.735.
    const got = read(times(48, (k) => straight(0, { watts: k < 36 ? 1 : 0, batch: k % 12 })))
    // 3 W in each of 12 batches, none in 4: mean 2.25, Σ = 12 · 0.75² + 4 · 2.25² = 27, se = √28.8.
    expectWithin(got.irradianceWm2, perM2(1) * (36 + T95 * Math.sqrt(28.8)), single)
  })
  test('even light of few rays: as wide as may be', () => {
    const rays = times(48, (k) => straight(59.5 * Math.sqrt((k + 0.5) / 48)))
    expectWithin(read(rays).irradianceWm2, perM2(7) * (48 + T95), single)
    expectWithin(read(rays).plusShare, T95 / 48, single)
  })
  test('400 rays in the middle are read there too, and the stronger counts', () => {
    // 688 within 10.5 mm are 0.93 of the lower end of what 7 mm hold, or more.
    const both = (core: number) => [...times(core, () => straight(0)), ...times(688 - core, () => straight(4.5))]
    expectWithin(read(both(400)).irradianceWm2, perM2(0) * (400 + T95), single)
    expectWithin(read(both(400)).plusShare, T95 / 400, single)
    // Fewer are no pupil of their own, but beside 10.5 mm they tell of the middle: 24 in each batch, the error of one ray.
    expectWithin(read(both(384)).irradianceWm2, perM2(0) * (384 + T95), single)
    // Stronger about the middle than in it: the wide one.
    const hollow = [...times(400, () => straight(0)), ...times(592, () => straight(4.5))]
    expectWithin(read(hollow).irradianceWm2, perM2(1) * (992 + T95), single)
  })
  test('a pupil wider than the light is even over is not read, though chance may make much of it', () => {
    // 200 W of a ring in one batch: 384 + 3.13 · 200 on 27.56 would be more than 386 on 12.25.
    const rays = [...times(384, () => straight(0)), ...times(20, () => straight(4.5, { watts: 10, batch: 0 }))]
    expectWithin(read(rays).irradianceWm2, perM2(0) * (384 + T95), single)
  })
})

describe('upper ends', () => {
  test('each column with the error of its own largest ray', () => {
    const four = [
      { watts: 2, blue: 7, thermal: 1, lumens: 1 },
      { watts: 1, blue: 1, thermal: 3, lumens: 9 },
      { watts: 5, blue: 1, thermal: 2, lumens: 3 },
      { watts: 1, blue: 2, thermal: 1, lumens: 2 },
    ]
    const got = read(times(64, (k) => straight(0, { ...four[Math.floor(k / 16)]!, batch: k % 16 })))
    // Sum 112, Σ² 240: even to 10.5 mm.
    expectWithin(got.irradianceWm2, perM2(1) * (16 * 9 + T95 * 5), single)
    expectWithin(got.blueIrradianceWm2, perM2(1) * (16 * 11 + T95 * 7), single)
    expectWithin(got.thermalIrradianceWm2, perM2(1) * (16 * 7 + T95 * 3), single)
    expectWithin(got.illuminanceLx, perM2(1) * (16 * 15 + T95 * 9), single)
    expectWithin(got.plusShare, (T95 * 5) / 144, single)
  })
  test('all in one batch: the error is as large as the sum', () => {
    const got = read(times(16, () => straight(0, { batch: 0 })))
    expectWithin(got.irradianceWm2, perM2(7) * 16 * (1 + T95), single)
    expectWithin(got.plusShare, T95, single)
  })
  test('without light zeros, and no limit; distance, angle and place as given', () => {
    const none = FIELDS_RAD.map((fieldRad) => ({ fieldRad, blueWm2sr: 0, thermalWm2sr: 0, by: 'arriving' }))
    expect(read([straight(0, { towards: [0, 0, -1], watts: 0 })])).toEqual({
      ...{ distanceMm: D, angleDeg: 7, place: { xMm: 0, yMm: 0, zMm: D }, irradianceWm2: 0, plusShare: 0 },
      ...{ illuminanceLx: 0, blueIrradianceWm2: 0, thermalIrradianceWm2: 0, subtendsRad: 0 },
      ...{ blueSeconds: null, thermalSeconds: null, fields: none, means: none },
    })
  })
})

describe('the angle that the source fills', () => {
  // Seen along (2, 3, 6)/7 from 700 mm away; starts on two lines across it.
  const [e1, e2] = [[3, -2, 0].map((c) => c / Math.sqrt(13)), [12, 18, -13].map((c) => c / Math.sqrt(637))]
  const place = { xMm: 200, yMm: 300, zMm: 600 }
  const from = (rad: number, along: number[]): HandRay => {
    const [x, y, z] = along.map((c) => c * 700 * Math.tan(rad)) as [number, number, number]
    return { at: [x, y, z], towards: [200 - x, 300 - y, 600 - z] }
  }
  const angle = (rays: readonly HandRay[]) =>
    readEye(eyeRaysOf(rays), place, { distanceMm: 700, angleDeg: 0 }, NO_BOUND).subtendsRad
  test('twice the angle that holds 98 of 100 rays about their middle', () => {
    // The middle and 50 pairs, not in order: of 101 the ninety-ninth is one of the forty-ninth pair.
    const pairs = times(50, (k) => from(0, k % 2 === 0 ? e1! : e2!)).flatMap((_, k) => {
      const rad = 0.01 * (1 + ((k * 17) % 50)) - 0.005
      const along = k % 2 === 0 ? e1! : e2!
      return [from(rad, along), from(-rad, along)]
    })
    expectWithin(angle([from(0, e1!), ...pairs]), 2 * 0.485, { abs: 1e-5, because: 'single precision' })
  })
  test('of more than 2000 rays every third', () => {
    const rays = times(2001, (k) => from((k % 2 === 0 ? 1 : -1) * (k % 3 === 0 ? 0.05 : 0.2), e2!))
    expectWithin(angle(rays), 0.1, { rel: 2e-3, because: 'one more ray on one side' })
    expectWithin(angle(rays.slice(0, 2000)), 0.4, { rel: 2e-3, because: 'one more ray on one side' })
  })
})

/** A ray from a start at (u, v) rad, small angles, that passes r mm beside the place. */
const seenAt = (u: number, r: number, over: Partial<HandRay> = {}): HandRay => ({
  ...{ at: [u * D, 0, 0], towards: [-u * D, r, D] },
  ...over,
})

describe('radiance by field', () => {
  test('a small source lies in every field: what arrives over the field, never more than the emitters', () => {
    const rays = times(400, () => straight(0, { blue: 0.5, thermal: 2, watts: 1, lumens: 1 }))
    const [blue, thermal] = [perM2(0) * 0.5 * (400 + T95), perM2(0) * 2 * (400 + T95)]
    const got = read(rays)
    for (const f of got.fields) {
      expectWithin(f.blueWm2sr, blue / sr(f.fieldRad), single)
      expectWithin(f.thermalWm2sr, thermal / sr(f.fieldRad), single)
      expect(f.by).toBe('arriving')
    }
    expect(got.fields.map((f) => f.fieldRad)).toEqual([...FIELDS_RAD])
    expect([got.blueSeconds, got.thermalSeconds]).toEqual([
      blueSeconds(got.fields, NO_BOUND),
      thermalSeconds(got.fields, NO_BOUND),
    ])
    expect(got.blueSeconds).not.toBeNull()
    const source = { blueWm2sr: 0.9 * got.fields[1]!.blueWm2sr, thermalWm2sr: 0.9 * got.fields[2]!.thermalWm2sr }
    const bounded = read(rays, source)
    expect(bounded.fields.map((f) => f.by)).toEqual(['source', 'source', 'source', 'arriving'])
    expect(bounded.fields.map((f) => f.thermalWm2sr)).toEqual([
      ...new Array(3).fill(source.thermalWm2sr),
      got.fields[3]!.thermalWm2sr,
    ])
    expect(bounded.fields.map((f) => f.blueWm2sr)).toEqual([
      ...new Array(2).fill(source.blueWm2sr),
      got.fields[2]!.blueWm2sr,
      got.fields[3]!.blueWm2sr,
    ])
    expect(bounded.blueSeconds).toBe(blueSeconds(bounded.fields, source))
  })
  test('of two spots 120 mrad apart the stronger, in every field', () => {
    const rays = [
      ...times(416, () => seenAt(0.06, 0, { blue: 0.25 })),
      ...times(416, () => seenAt(-0.06, 0, { watts: 0.5, blue: 1 })),
    ]
    const got = read(rays)
    expectWithin(got.subtendsRad, 0.12, { rel: 0.2, because: 'about their mean' })
    for (const f of got.fields) {
      expectWithin(f.thermalWm2sr, (perM2(0) * (416 + T95)) / sr(f.fieldRad), single)
      // Blue arrives four times as much from the other, but the fullest field is that of the retina.
      expectWithin(f.blueWm2sr, (perM2(0) * 0.25 * (416 + T95)) / sr(f.fieldRad), single)
    }
    expect(got.fields[3]!.by).toBe('rays')
  })
  test('24 rays are counted, 23 are not', () => {
    const few = (n: number) => [
      ...times(n, (k) => seenAt(0.06, 0, { watts: 4, batch: k % 16 })),
      ...times(64, (k) => seenAt(-0.06, 0, { batch: k % 16 })),
    ]
    const [narrowest, narrow, , wide] = read(few(24)).fields
    // 8 W in eight batches, 4 in eight: se = √(16/15 · 16 · 2²). Even to 10.5 mm.
    const counted = 96 + T95 * Math.sqrt((16 / 15) * 64)
    expectWithin(wide!.thermalWm2sr, (perM2(1) * counted) / sr(0.1), single)
    expectWithin(narrow!.thermalWm2sr, (perM2(1) * counted) / sr(0.011), single)
    expect(wide!.by).toBe('rays')
    // Sharp only through 7 mm, where the same rays would be more W/m²: no more power than in the next wider field.
    expectWithin(narrowest!.thermalWm2sr, (perM2(1) * counted) / sr(0.0017), single)
    expect(narrowest!.by).toBe('arriving')
    const none = read(few(23))
    for (const f of none.fields) {
      expectWithin(f.thermalWm2sr, none.thermalIrradianceWm2 / sr(f.fieldRad), single)
      expect(f.by).toBe('arriving')
    }
  })
  test('where a narrower pupil still holds 400 rays the stronger of both is taken, each weight by itself', () => {
    const spot = (u: number, watts: number) => [
      ...times(512, () => seenAt(u, 0, { watts, blue: watts })),
      ...times(512, () => seenAt(u, 4.5, { watts, blue: 2 * watts })),
    ]
    const got = read([...spot(0.06, 1), ...spot(-0.06, 0.5)])
    const [narrowest, , , wide] = got.fields
    // Retina: 514/12.25 in 7 mm, 1026/27.56 in 10.5; blue the other way.
    expectWithin(wide!.thermalWm2sr, (perM2(0) * (512 + T95)) / sr(0.1), single)
    expectWithin(wide!.blueWm2sr, (perM2(1) * (512 + 1024 + 2 * T95)) / sr(0.1), single)
    // The narrowest field is sharp through 7 mm alone.
    expectWithin(narrowest!.blueWm2sr, (perM2(0) * (512 + T95)) / sr(0.0017), single)
  })
  test('the narrower pupil is the one that would hold 400 of the rays counted', () => {
    // 96, 208, 512, 1008 rays within the first four steps: 1008/400 is 2.5, one step of 2.25.
    const spot = (u: number, watts: number) =>
      [
        [96, 0],
        [112, 4.5],
        [304, 7],
        [496, 11],
      ].flatMap(([n, r]) => times(n!, () => seenAt(u, r!, { watts })))
    const { fields } = read([...spot(0.06, 1), ...spot(-0.06, 0.5)])
    expectWithin(fields[3]!.thermalWm2sr, (perM2(2) * (512 + T95)) / sr(0.1), single)
    expectWithin(fields[2]!.thermalWm2sr, (perM2(2) * (512 + T95)) / sr(0.035), single)
    // 11 mrad are sharp through 10.5 mm: 208 rays, none narrower.
    expectWithin(fields[1]!.thermalWm2sr, (perM2(1) * (208 + T95)) / sr(0.011), single)
  })
  test('of more than 4500 rays every third is seen, worth three', () => {
    const { fields } = read([
      ...times(4608, () => seenAt(0.06, 0)),
      ...times(4608, () => seenAt(-0.06, 0, { watts: 0.5 })),
    ])
    for (const f of fields) expectWithin(f.thermalWm2sr, (3 * perM2(0) * (1536 + T95)) / sr(f.fieldRad), single)
  })
  test('such rays count three times where 400 are wanted', () => {
    // 4608 within 10.5 mm by 1536 seen: enough for 7 mm, where there are more a square millimetre.
    const spot = (u: number, watts: number) => [0, 4.5].flatMap((r) => times(2304, () => seenAt(u, r, { watts })))
    const { fields } = read([...spot(0.06, 1), ...spot(-0.06, 0.5)])
    expectWithin(fields[3]!.thermalWm2sr, (3 * perM2(0) * (768 + T95)) / sr(0.1), single)
  })
  test('a narrower field is never darker than the wide one about it', () => {
    // Either half finds a spot that the other half hardly has: 20 mrad either side, so that 100 mrad hold both, 35 mrad one.
    const rays = [
      ...times(208, (k) => seenAt(0.02, 0, { batch: 1 + 2 * (k % 8) })),
      ...times(208, (k) => seenAt(-0.02, 0, { batch: 2 * (k % 8) })),
      ...times(16, (k) => seenAt(0.02, 0, { batch: 2 * (k % 8), watts: 0.001 })),
      ...times(16, (k) => seenAt(-0.02, 0, { batch: 1 + 2 * (k % 8), watts: 0.001 })),
      ...times(32, (k) => seenAt(k % 2 === 0 ? 0.2 : -0.2, 0, { watts: 0.001 })),
    ]
    const { fields } = read(rays)
    const wide = fields[3]!
    expectWithin(wide.thermalWm2sr, (perM2(0) * (416.032 + T95)) / sr(0.1), {
      rel: 1e-4,
      because: 'the error of 27 W a batch',
    })
    for (const f of fields.slice(0, 3))
      expect([f.thermalWm2sr, f.blueWm2sr]).toEqual([wide.thermalWm2sr, wide.blueWm2sr])
  })
})

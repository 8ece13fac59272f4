import { describe, expect, test } from 'vitest'
import {
  airLight,
  airOf,
  extinctionPerM,
  hazeWord,
  phase,
  VISIBILITIES_M,
} from '../../../../src/app/night/model/air.ts'
import { distanceToFigure, figureIn, hitFigure, normalOn } from '../../../../src/app/night/model/figures.ts'
import { finishOf, LIVE_MS, STILL_MS, updatedMsPerPixel } from '../../../../src/app/night/model/finish.ts'
import { illuminanceAt, intensityTowards, mapAt, meanOnTarget } from '../../../../src/app/night/model/light.ts'
import { mouthRadiusM } from '../../../../src/app/night/model/mouth.ts'
import {
  distanceMarks,
  jointM,
  kindByName,
  lampFromPlace,
  pictureOf,
  placeOf,
  stationAt,
  type TargetKind,
  type Triple,
  viewDirection,
} from '../../../../src/app/night/model/scene.ts'
import {
  REFLECTANCE,
  reflectanceOf,
  roughCosine,
  seenAlong,
  shadowOf,
  targetLuminance,
  UPRIGHT,
} from '../../../../src/app/night/model/seen.ts'
import {
  adaptationTo,
  cameraLevel,
  cameraSettings,
  cameraWhite,
  colourSeen,
  DARKEST_ADAPTATION,
  decoded,
  encoded,
  eyeLevel,
  luminanceOf,
  sensibleEv,
  toScreen,
} from '../../../../src/app/night/model/tone.ts'
import { benchCheck, gannetHead } from '../../../../src/library/demos.ts'
import type { GridMap } from '../../../../src/run/figure.ts'

const n = 64
const map: GridMap = {
  columns: n,
  rows: n,
  fromX: -8,
  toX: 8,
  fromY: -8,
  toY: 8,
  unit: 'deg',
  of: 'cd',
  // Brighter to +x and, less, to +y: a mirrored picture can't pass.
  values: Float32Array.from({ length: n * n }, (_, i) => 1000 + 100 * (i % n) + 10 * Math.floor(i / n)),
}
const light = { directionMap: map, profile: { thetaDeg: [0, 8, 90, 180], cd: [4000, 4000, 400, 0] } }
const flat = {
  directionMap: { ...map, values: new Float32Array(n * n).fill(1000) },
  profile: { thetaDeg: [0, 180], cd: [1000, 1000] },
}
const KINDS: TargetKind[] = ['wall', 'person', 'boat', 'field']
const STATIONS = ['lamp', 'aside', 'near'] as const
const far = { distanceM: 800, widthM: 40, heightM: 40 }
const noAir = airOf(null, 0.28, 5)

describe('light', () => {
  test('the map is read between bin centres, linearly', () => {
    // 0.25° a bin; bin (32, 32) has its centre at 0.125°.
    expect(mapAt(map, 0.125, 0.125)).toBeCloseTo(1000 + 3200 + 320, 3)
    expect(mapAt(map, 0.25, 0.125)).toBeCloseTo(1000 + 3250 + 320, 3)
  })
  test('near the axis the map speaks, beyond its window the profile', () => {
    const at = (deg: number) => Math.tan((deg * Math.PI) / 180)
    expect(intensityTowards(light, at(3), 0, 1)).toBeCloseTo(mapAt(map, 3, 0), 2)
    expect(intensityTowards(light, 0, at(-3), 1)).toBeCloseTo(mapAt(map, 0, -3), 2)
    expect(intensityTowards(light, at(49), 0, 1)).toBeCloseTo(2200, 6)
    expect(intensityTowards(light, 0, 0, -1)).toBe(0)
  })
  test('illuminance is I cos/d²', () => {
    expect(illuminanceAt(flat, [0, 0, 10], [0, 0, 1])).toBeCloseTo(10, 9)
    // The wall 10 m to the side: d² = 200, cos 45°.
    expect(illuminanceAt(flat, [10, 0, 10], [0, 0, 1])).toBeCloseTo((1000 * Math.SQRT1_2) / 200, 9)
    expect(meanOnTarget(flat, 100, 1, 1)).toBeCloseTo(0.1, 5)
  })
})

describe('place', () => {
  const size = { width: 600, height: 500 }
  test.each(KINDS)('%s: aimed at exactly the stated distance', (kind) => {
    for (const distanceM of [0.4, 10, 800]) {
      const p = placeOf(kind, { ...far, distanceM })
      expect(Math.hypot(...p.centre)).toBeCloseTo(distanceM, 9)
      expect(p.lampM).toBeGreaterThan(0)
      // The point aimed at lies on the lamp's own axis.
      const [x, y, z] = lampFromPlace(p, p.centre)
      expect(Math.abs(x)).toBe(0)
      expect(y).toBeCloseTo(0, 9)
      expect(z).toBeCloseTo(distanceM, 9)
    }
  })
  // The frame of the lamp is seen from the target: its x is the left of whoever stands at the lamp.
  test('what goes to +x of the lamp lands on the left, what goes up lands above', () => {
    const p = placeOf('field', far)
    expect(lampFromPlace(p, [-2, 0, 0])[0]).toBe(2)
    expect(lampFromPlace(p, [0, 1, 0])[1]).toBeGreaterThan(0.9)
  })
  test.each(STATIONS)(
    'from %s a point and its view direction agree; up is up, and right is the right of who looks',
    (name) => {
      for (const kind of KINDS) {
        const p = placeOf(kind, far)
        const s = stationAt(name, p, 9, 1, size)
        for (const q of [p.centre, [p.centre[0] + 3, p.centre[1] + 1, p.centre[2] - 2]] as Triple[]) {
          const at = pictureOf(s, size, q)!
          const direction = viewDirection(s, size, ...at)
          const way = q.map((v, i) => v - s.eye[i]!)
          const far_ = Math.hypot(...way)
          for (let i = 0; i < 3; i++) expect(direction[i]).toBeCloseTo(way[i]! / far_, 6)
        }
        const [x, y, z] = p.centre
        const mid = pictureOf(s, size, p.centre)!
        expect(pictureOf(s, size, [x, y + 3, z])![1]).toBeLessThan(mid[1])
        if (name !== 'aside') expect(pictureOf(s, size, [x + 3, y, z])![0]).toBeGreaterThan(mid[0])
        else expect(pictureOf(s, size, [0, 0, 0])![0]).toBeLessThan(mid[0])
      }
    },
  )
  test('the whole target is in the picture', () => {
    for (const distanceM of [10, 15, 800]) {
      const p = placeOf('wall', { distanceM, widthM: 6, heightM: 3 })
      for (const name of STATIONS) {
        const s = stationAt(name, p, 9, 1, size)
        for (const x of [-3, 3]) {
          const at = pictureOf(s, size, [x, 1.5, distanceM])!
          expect(at[0]).toBeGreaterThan(0)
          expect(at[1]).toBeGreaterThan(0)
          if (name !== 'aside') expect(at[0]).toBeLessThan(size.width)
        }
      }
    }
  })
  test('marks are round and end with the target', () => {
    expect(distanceMarks(800)).toEqual([20, 50, 100, 200, 500, 800])
    expect(distanceMarks(15)).toEqual([0.5, 1, 2, 5, 10, 15])
    expect(distanceMarks(100)).toEqual([2, 5, 10, 20, 50, 100])
    expect(jointM(40, 40)).toBe(5)
    expect(jointM(0.4, 0.4)).toBeCloseTo(0.05, 9)
  })
  test('a target’s name asks for its picture', () => {
    expect(['Kayak', 'Ice', 'Path', 'A person', 'Wall', ''].map(kindByName)).toEqual([
      ...['boat', 'field', 'field', 'person', 'wall', 'wall'],
    ])
  })
  test('the mouth: the lens of the demo, the die of the bench', () => {
    expect(mouthRadiusM(gannetHead())).toBeCloseTo(0.28, 9)
    expect(mouthRadiusM({ ...benchCheck(), lens: null, tunnel: null })).toBeLessThan(0.005)
  })
})

describe('figures', () => {
  const person = placeOf('person', far)
  const body = figureIn(person)!
  const z = person.centre[2]
  const ground = -person.lampM
  test('the person is 1.75 m tall and stands on the ground at the distance', () => {
    const top = hitFigure(body, [0, ground + 5, z], [0, -1, 0])!
    expect(5 - top).toBeCloseTo(1.75, 1)
    const foot = hitFigure(body, [0.118, ground + 0.02, z - 5], [0, 0, 1])!
    expect(foot).toBeGreaterThan(4.7)
    expect(distanceToFigure(body, [0, ground - 0.05, z]).m).toBeGreaterThan(0)
  })
  test('the kayak is 4.6 m long, under 0.6 m wide, and floats', () => {
    const p = placeOf('boat', far)
    const boat = figureIn(p)!
    // Bow and stern, along the hull turned by 24°.
    const [c, s] = [Math.cos((24 * Math.PI) / 180), Math.sin((24 * Math.PI) / 180)]
    const at = (along: number, up: number, across: number): Triple => [
      c * along - s * across,
      up - p.lampM,
      p.centre[2] + s * along + c * across,
    ]
    expect(distanceToFigure(boat, at(2.27, 0.2, 0)).m).toBeLessThan(0)
    expect(distanceToFigure(boat, at(2.34, 0.2, 0)).m).toBeGreaterThan(0)
    expect(distanceToFigure(boat, at(-0.5, 0, 0.25)).m).toBeLessThan(0)
    expect(distanceToFigure(boat, at(-0.5, 0, 0.31)).m).toBeGreaterThan(0)
    for (const l of boat.limbs) {
      expect(Math.hypot(...l.a.map((v, i) => v - boat.ball.centre[i]!)) + l.ra).toBeLessThan(boat.ball.radius)
    }
  })
  test('normals point outwards; the ground behind the person is in shadow, beside it is not', () => {
    const at: Triple = [0, ground + 1.2, z - 5]
    const t = hitFigure(body, at, [0, 0, 1])!
    expect(normalOn(body, [0, ground + 1.2, z - 5 + t])[2]).toBeLessThan(-0.9)
    expect(shadowOf(body, [0.1, ground, z + 1], [0, 1, 0])).toBe(true)
    expect(shadowOf(body, [2, ground, z + 1], [0, 1, 0])).toBe(false)
  })
})

describe('what is seen, by hand', () => {
  test('wall: L = ρ I/(π d²)', () => {
    const place = placeOf('wall', { ...far, distanceM: 20 })
    const seen = seenAlong({ place, figure: null, light: flat, air: noAir }, [0, 0, 0], [0, 0, 1])!
    expect(seen.lx).toBeCloseTo(1000 / 400, 9)
    expect(seen.cdM2).toBeCloseTo((0.5 * 2.5) / Math.PI, 9)
    expect(targetLuminance({ place: { ...place, widthM: 0.1, heightM: 0.1 }, light: flat, air: noAir })).toBeCloseTo(
      (0.5 * 2.5) / Math.PI,
      4,
    )
  })
  test('ground: the cosine law; a person’s chest: the paint of the jacket', () => {
    const place = placeOf('person', { ...far, distanceM: 20 })
    const scene = { place, figure: figureIn(place), light: flat, air: noAir }
    const down = seenAlong(scene, [5, 0, 10], [0, -1, 0])!
    const d2 = 25 + place.lampM ** 2 + 100
    expect(down.on).toBe('earth')
    expect(down.lx).toBeCloseTo((1000 * place.lampM) / d2 ** 1.5, 6)
    const cos = place.lampM / Math.sqrt(d2)
    const caught = roughCosine(cos, UPRIGHT.earth) / cos
    expect(down.cdM2).toBeCloseTo((down.lx * caught * reflectanceOf(REFLECTANCE.earth)) / Math.PI, 9)
    const chest = seenAlong(scene, [0.07, 0, 0], [0, place.axis[1], place.axis[2]])!
    expect(chest.on).toBe('figure')
    expect(chest.lx).toBeGreaterThan(2.3)
    expect(chest.lx).toBeLessThan(2.53)
  })
  test('haze dims there and back: e^(−σ(d + t))', () => {
    const place = placeOf('wall', { ...far, distanceM: 1000 })
    const air = airOf(2000, 0.28, 5)
    const seen = seenAlong({ place, figure: null, light: flat, air }, [0, 0, 0], [0, 0, 1])!
    expect(seen.cdM2).toBeCloseTo(((0.5 * 1e-3) / Math.PI) * Math.exp(-2 * air.perM * 1000), 12)
  })
  test('rough ground takes light from above as flat ground does, and more than it from low down', () => {
    expect(roughCosine(1, UPRIGHT.grass)).toBe(1)
    expect(roughCosine(0.01, UPRIGHT.grass)).toBeGreaterThan(0.3)
    expect(roughCosine(0.3, 0)).toBe(0.3)
  })
})

describe('air', () => {
  test('Koschmieder 1924: a black thing is at 2 % contrast at the visibility', () => {
    for (const v of VISIBILITIES_M) if (v !== null) expect(Math.exp(-extinctionPerM(v) * v)).toBeCloseTo(0.02, 12)
    expect(extinctionPerM(null)).toBe(0)
    expect(extinctionPerM(1000)).toBeCloseTo(3.912e-3, 6)
    expect(new Set(VISIBILITIES_M.map(hazeWord)).size).toBeGreaterThanOrEqual(8)
  })
  test('phase: 1 over the sphere; 40 sr of extinction over backscatter', () => {
    let sum = 0
    const steps = 20_000
    for (let i = 0; i < steps; i++) sum += (phase(-1 + (2 * (i + 0.5)) / steps) * 4 * Math.PI) / steps
    expect(sum).toBeCloseTo(1, 4)
    expect(1 / phase(-1)).toBeCloseTo(40, 0)
  })
  test('the sum along a line of sight is the integral: against even small steps', () => {
    const place = placeOf('wall', far)
    const narrow = {
      directionMap: {
        ...map,
        values: Float32Array.from({ length: n * n }, (_, i) => {
          const [x, y] = [((i % n) + 0.5) / 4 - 8, (Math.floor(i / n) + 0.5) / 4 - 8]
          return 1e6 * Math.exp(-(x * x + y * y) / 4)
        }),
      },
      profile: { thetaDeg: [0, 8, 180], cd: [1e6, 100, 1] },
    }
    const air = airOf(5000, 0.28, 3.3)
    const eye: Triple = [300, 20, 100]
    for (const to of [
      [0, 0, 200],
      [0, 5, 700],
      [2, -1, 30],
    ] as Triple[]) {
      const way = to.map((v, i) => v - eye[i]!)
      const length = Math.hypot(...way)
      const direction = way.map((v) => v / length) as [number, number, number]
      const end = 900
      let sum = 0
      const dt = 0.01
      for (let t = dt / 2; t < end; t += dt) {
        const [x, y, z] = [eye[0] + t * direction[0], eye[1] + t * direction[1], eye[2] + t * direction[2] + air.apexM]
        const r = Math.hypot(x, y, z)
        if (z < air.apexM) continue
        const cos = -(x * direction[0] + y * direction[1] + z * direction[2]) / r
        const cd = intensityTowards(narrow, ...lampFromPlace(place, [x, y, z]))
        sum += ((air.perM * phase(cos) * cd) / (r * r)) * Math.exp(-air.perM * (t + Math.max(0, r - air.apexM))) * dt
      }
      expect(airLight(narrow, place, air, eye, direction, end) / sum).toBeCloseTo(1, 2)
      // As few steps as the picture takes.
      expect(airLight(narrow, place, air, eye, direction, end, 36) / sum).toBeCloseTo(1, 1)
    }
  })
  test('the beam leaves the mouth as wide as the mouth', () => {
    const air = airOf(1000, 0.28, 10)
    expect(air.apexM * Math.tan((5 * Math.PI) / 180)).toBeCloseTo(0.28, 9)
  })
})

describe('tone', () => {
  test('a matt surface: L = ρE/π', () => {
    expect(luminanceOf(Math.PI, 0.5)).toBeCloseTo(0.5, 12)
  })
  test('the eye shows its adaptation at half, rises, and never leaves the range', () => {
    expect(eyeLevel(0.7, 0.7)).toBeCloseTo(0.5, 9)
    let last = -1
    for (const l of [0, 1e-6, 1e-3, 0.1, 1, 100, 1e9]) {
      const shown = eyeLevel(l, 0.7)
      expect(shown).toBeGreaterThan(last)
      expect(shown).toBeLessThanOrEqual(1)
      last = shown
    }
    expect(adaptationTo(0)).toBe(DARKEST_ADAPTATION)
    expect(adaptationTo(3)).toBe(3)
  })
  test('colour is full at 5 cd/m², gone at 0.005, and never out of range', () => {
    expect(colourSeen(5)).toBeCloseTo(1, 12)
    expect(colourSeen(0.005)).toBeCloseTo(0, 12)
    const dark = toScreen([0.004, 0.001, 0.0005], { kind: 'eye', adaptedCdM2: 0.003 })
    expect(dark[0]).toBeCloseTo(dark[2], 12)
    const bright = toScreen([4000, 1000, 100], { kind: 'eye', adaptedCdM2: 5 })
    expect(Math.max(...bright)).toBeLessThanOrEqual(1 + 1e-12)
    expect(bright[0]).toBeGreaterThan(bright[2])
    // Far too bright is white.
    expect(toScreen([4e9, 1e9, 1e8], { kind: 'eye', adaptedCdM2: 5 })[2]).toBeGreaterThan(0.99)
    const neutral = toScreen([7, 7, 7], { kind: 'eye', adaptedCdM2: 7 })
    for (const c of neutral) expect(c).toBeCloseTo(0.5, 9)
  })
  test('a camera doubles its white with each EV and clips there', () => {
    expect(cameraWhite(3) / cameraWhite(2)).toBe(2)
    expect(cameraLevel(cameraWhite(4), 4)).toBeCloseTo(1, 12)
    expect(cameraLevel(10 * cameraWhite(4), 4)).toBeCloseTo(1, 12)
    // IEC 61966-2-1: a fifth of white is sent as 0.4845.
    expect(cameraLevel(0.2 * cameraWhite(4), 4)).toBeCloseTo(0.4845, 3)
    expect(decoded(encoded(0.37))).toBeCloseTo(0.37, 9)
    expect(cameraLevel(1, sensibleEv(1))).toBeGreaterThan(0.4)
    expect(cameraLevel(1, sensibleEv(1))).toBeLessThan(0.65)
  })
  test('dials: EV 15 is f/2.8 at 1/4000 s and ISO 100; each pair gives its EV', () => {
    // 2.8²/2^15 = 1/4180 s; cameras call it 1/4000.
    expect(cameraSettings(15)).toMatchObject({ iso: 100, words: 'ISO 100, 1/4200 s' })
    for (const ev of [-8, -2.5, 0, 3, 9]) {
      const { iso, seconds } = cameraSettings(ev)
      expect(Math.log2((2.8 ** 2 / seconds) * (100 / iso))).toBeCloseTo(ev, 9)
    }
  })
})

describe('fineness', () => {
  test('a quick machine draws in full; a slow one coarser while something moves, finer once it rests', () => {
    const pixels = 600 * 500
    expect(finishOf(pixels, 2, 1e-6, LIVE_MS)).toBe(2)
    const live = finishOf(pixels, 1, 4e-4, LIVE_MS)
    const still = finishOf(pixels, 1, 4e-4, STILL_MS)
    expect(live).toBeLessThan(still)
    expect(still).toBe(1)
    // The picture then takes what it may: its pixels are that many fewer.
    expect(live * live * pixels * 4e-4).toBeCloseTo(LIVE_MS, 6)
    expect(finishOf(pixels, 1, 0, LIVE_MS)).toBeLessThan(0.5)
    expect(updatedMsPerPixel(updatedMsPerPixel(0, 10, 100), 30, 100)).toBeCloseTo(0.2, 12)
  })
})

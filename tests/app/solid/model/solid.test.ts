import { describe, expect, test } from 'vitest'
import { beamTable, fluenceAt, fluxConeDeg, mouthOf } from '../../../../src/app/solid/model/beam.ts'
import { pathSegments, tunnelEdges, tunnelMesh } from '../../../../src/app/solid/model/mesh.ts'
import { eyeOf, homeOrbit, nearer, slid, turned } from '../../../../src/app/solid/model/orbit.ts'
import { pieceMesh } from '../../../../src/app/solid/model/pieceMesh.ts'
import type { Cover, SolidLens } from '../../../../src/lamp/schema.ts'
import { gannetHead, iceRink, stileLamp } from '../../../../src/library/demos.ts'

const radians = Math.PI / 180
const theta = Array.from({ length: 901 }, (_, i) => i / 10)
const narrow = { thetaDeg: theta, cd: theta.map((t) => 1e6 * Math.exp(-Math.LN2 * (t / 2.5) ** 2)) }
const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
const cosine = { thetaDeg: theta, cd: theta.map((t) => 100 * Math.cos(t * radians)) }

describe('light in air', () => {
  test('far away it is I/d²', () => {
    const s = 1e6
    expect((fluenceAt(narrow, 280, 0, s) * s * s) / 1e6).toBeCloseTo(1, 3)
    const r = s * Math.tan(2.5 * radians)
    expect((fluenceAt(narrow, 280, r, s) * (s * s + r * r)) / 0.5e6).toBeCloseTo(1, 2)
  })

  test('the light through every plane is the flux (inverse of spreading)', () => {
    // Flux through a plane: ∫ E cosθ dA; for a beam of ±2.5° cos is 1 within 0.1 %.
    let flux = 0
    for (let i = 0; i < 9000; i++) {
      const t = (i + 0.5) / 100
      flux += 1e6 * Math.exp(-Math.LN2 * (t / 2.5) ** 2) * 2 * Math.PI * Math.sin(t * radians) * (radians / 100)
    }
    for (const s of [200, 1500, 6000]) {
      let through = 0
      const reach = 280 + s * Math.tan(12 * radians)
      const n = 500
      for (let i = 0; i < n; i++) {
        const r = (reach * (i + 0.5)) / n
        through += fluenceAt(narrow, 280, r, s) * 2 * Math.PI * r * (reach / n)
      }
      expect(through / flux).toBeCloseTo(1, 2)
    }
  })

  test('a cone holds its share of the flux: a cosine source has sin²θ', () => {
    expect(fluxConeDeg(cosine, 0.5)).toBeCloseTo(45, 0)
    expect(fluxConeDeg(cosine, 0.75)).toBeCloseTo(60, 0)
  })

  test('the table begins at the mouth with 1 on the axis and thins out', () => {
    const t = beamTable(narrow, 280, 2500)
    expect(t.values[0]).toBeCloseTo(1, 9)
    expect(t.values[t.columns - 1]).toBeLessThanOrEqual(1)
    expect(t.values.every((v) => Number.isFinite(v) && v >= 0 && v < 1.001)).toBe(true)
    expect(t.values[(t.rows - 1) * t.columns + t.columns - 1]).toBeLessThan(0.1)
  })

  test('the mouth is the lens, else the tunnel, else the array', () => {
    expect(mouthOf(gannetHead()).radiusMm).toBe(280)
    expect(mouthOf(iceRink())).toEqual({ zMm: 140, radiusMm: 160 })
    // One board of 1 + 6 at 12 mm with collimators of 10 mm at 12 mm.
    expect(mouthOf(stileLamp()).radiusMm).toBeCloseTo(17, 3)
    expect(mouthOf(stileLamp()).zMm).toBe(12)
  })
})

describe('meshes', () => {
  test('a hexagonal tunnel has six flats, the first facing +x', () => {
    const { position, index } = tunnelMesh(iceRink().tunnel!)
    expect(position).toHaveLength(6 * 6)
    expect(index).toHaveLength(6 * 6)
    const xs = [0, 1].map((i) => position[6 * i]!)
    // Corners beside +x: the last and the first, both at x = 125 mm of the inlet.
    expect(xs[0]).toBeCloseTo(125, 4)
    expect(position[6 * 5]).toBeCloseTo(125, 4)
    expect(Math.max(...index)).toBe(11)
  })
  test('a round tunnel keeps its radius', () => {
    const { position } = tunnelMesh(gannetHead().tunnel!)
    for (let i = 0; i < position.length; i += 6) {
      expect(Math.hypot(position[i]!, position[i + 1]!)).toBeCloseTo(100, 3)
      expect(Math.hypot(position[i + 3]!, position[i + 4]!)).toBeCloseTo(280, 3)
    }
    expect(tunnelEdges(gannetHead().tunnel!).length % 6).toBe(0)
  })
  test('a tunnel of two stretches has both walls and, at the joint, the step between them', () => {
    const joint = { ...finish, zMm: 300, belowMm: 240, aboveMm: 300 }
    const { position } = tunnelMesh({
      ...finish,
      sides: 4,
      inMm: 200,
      outMm: 360,
      zInMm: 0,
      zOutMm: 600,
      joints: [joint],
    })
    // Three bands of four flats: below, the step, above. Corners of a square lie at half its side, in x and in y.
    const bands = [0, 1, 2].map((k) => [...position.subarray(24 * k, 24 * k + 6)].map(Math.abs))
    expect(bands).toEqual([
      [100, 100, 0, 120, 120, 300],
      [120, 120, 300, 150, 150, 300],
      [150, 150, 300, 180, 180, 600],
    ])
    expect(position).toHaveLength(3 * 24)
  })
  test('a rectangle keeps width and height apart', () => {
    const t = {
      ...finish,
      sides: 4,
      inMm: 100,
      outMm: 200,
      inHeightMm: 60,
      outHeightMm: 80,
      zInMm: 10,
      zOutMm: 90,
    } as const
    expect([...tunnelMesh(t).position.subarray(0, 6)]).toEqual([50, -30, 10, 100, -40, 90])
  })
  test('the lens hints at grooves without drawing all of them', () => {
    const { lines } = pieceMesh(gannetHead().lens!)
    const heights = [...lines].filter((_, i) => i % 3 === 2)
    // Two rims of 72 lines and about twenty rings of 144, all between the flat side and the valleys.
    expect(lines.length / 6).toBeGreaterThan(2 * 72 + 15 * 144)
    expect(lines.length / 6).toBeLessThan(2 * 72 + 40 * 144)
    expect([Math.min(...heights), Math.max(...heights)]).toEqual([1050, 1053])
  })
  test('a tilted cover stands where its tilt puts it; the curve of a solid lens ends at its vertex', () => {
    const cover: Cover = {
      ...{ name: 'Cover', kind: 'cover', aperture: 'rectangle', material: 'pmma' },
      ...{ zMm: 500, diameterMm: 200, heightMm: 100, thicknessMm: 4, tiltXDeg: 30 },
    }
    // Tilted about x: y of ±50 goes to ±50 cos 30° and z to ±50 sin 30°, the far side 4 cos 30° on.
    const z = [...pieceMesh(cover).position].filter((_, i) => i % 3 === 2)
    expect(Math.min(...z)).toBeCloseTo(475, 4)
    expect(Math.max(...z)).toBeCloseTo(525 + 4 * Math.cos(Math.PI / 6), 4)
    const solid: SolidLens = {
      ...{ kind: 'solid', zMm: 300, diameterMm: 100, radiusMm: 120, conic: 0, thicknessMm: 20 },
      ...{ curved: 'target', material: 'crown', aperture: 'square' },
    }
    const high = [...pieceMesh(solid).position].filter((_, i) => i % 3 === 2)
    expect(Math.max(...high)).toBeCloseTo(320, 4)
    // At a corner, √2 · 50 mm out, the curve has 120 − √(120² − 2 · 50²) = 23.05 mm of depth: more than it is thick.
    expect(Math.min(...high)).toBeCloseTo(300, 4)
  })
  test('paths become segments; hidden groups are left out', () => {
    const paths = {
      start: Uint32Array.from([0, 3, 5]),
      xyz: Float32Array.from({ length: 15 }, (_, i) => i),
      fate: Uint8Array.from([11, 2]),
    }
    const all = pathSegments(paths, [], 'dark')
    expect([...all.position]).toEqual([0, 1, 2, 3, 4, 5, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14])
    expect(all.colour).toHaveLength(18)
    expect(pathSegments(paths, ['out'], 'dark').position).toHaveLength(6)
    // #ffb65c: red is full in linear light, green (182/255) is 0.468 by IEC 61966-2-1.
    expect(all.colour[0]).toBeCloseTo(1, 6)
    expect(all.colour[1]).toBeCloseTo(0.468, 3)
  })
})

describe('orbit', () => {
  const o = homeOrbit(gannetHead(), 1)
  test('the eye stays at its distance and never tips over', () => {
    const e = eyeOf(o)
    expect(Math.hypot(e[0] - o.atMm[0], e[1] - o.atMm[1], e[2] - o.atMm[2])).toBeCloseTo(o.distanceMm, 6)
    expect(turned(o, 0, 500).elevationDeg).toBe(89)
    expect(turned(o, 720, 0).azimuthDeg).toBeCloseTo(o.azimuthDeg, 9)
    expect(nearer(o, 1e9).distanceMm).toBeGreaterThan(0)
  })
  test('from home, light goes to the right: the eye stands on the side of -x', () => {
    expect(eyeOf(o)[0]).toBeLessThan(0)
  })
  test('sliding is square to the line of sight', () => {
    const s = slid(o, 0.3, -0.2)
    const e = eyeOf(o)
    const moved = s.atMm.map((v, i) => v - o.atMm[i]!)
    const sight = o.atMm.map((v, i) => v - e[i]!)
    expect(moved.reduce((sum, v, i) => sum + v * sight[i]!, 0)).toBeCloseTo(0, 6)
    expect(Math.hypot(...moved)).toBeGreaterThan(0)
  })
})

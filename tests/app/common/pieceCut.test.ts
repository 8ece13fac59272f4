import { describe, expect, test } from 'vitest'
import { wallLine } from '../../../src/app/common/cut.ts'
import { positionInFrame, positionOnUnrolledWall } from '../../../src/app/common/gridMap.ts'
import {
  chordOf,
  curveLine,
  focusOf,
  groovesBetween,
  isOnAxis,
  opticalAxis,
  plateCorners,
} from '../../../src/app/common/pieceCut.ts'
import { wallPlaces, wallShare } from '../../../src/app/common/unrolledWall.ts'
import { stretchesOf, unroll } from '../../../src/lamp/assembly.ts'
import { fromFrame, rotationOf } from '../../../src/lamp/body.ts'
import type { Cover, FresnelLens, Lens, SolidLens, Tunnel } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import type { GridMap } from '../../../src/run/figure.ts'
import { profilePlace } from '../../../src/run/wallProfile.ts'

const cover: Cover = {
  ...{ name: 'Cover', kind: 'cover', aperture: 'rectangle', material: 'pmma' },
  ...{ zMm: 500, diameterMm: 200, heightMm: 100, thicknessMm: 10 },
}
const points = (list: readonly (readonly [number, number])[]) =>
  list.map(([z, r]) => [expect.closeTo(z, 6), expect.closeTo(r, 6)])

describe('a plate in section, worked out by hand', () => {
  test('upright it shows its height, level its width', () => {
    expect(plateCorners(cover, 'upright', 0, 10)).toEqual(
      points([
        [500, -50],
        [500, 50],
        [510, 50],
        [510, -50],
      ]),
    )
    expect(plateCorners(cover, 'level', 0, 10)).toEqual(
      points([
        [500, -100],
        [500, 100],
        [510, 100],
        [510, -100],
      ]),
    )
  })
  test('tilted by 30° about x, its upper edge goes forward', () => {
    // (y, z) of ±50 at height h: y cos 30° − h sin 30°, 500 + y sin 30° + h cos 30°.
    const [c, s] = [Math.sqrt(3) / 2, 0.5]
    expect(plateCorners({ ...cover, tiltXDeg: 30 }, 'upright', 0, 10)).toEqual(
      points([
        [500 - 50 * s, -50 * c],
        [500 + 50 * s, 50 * c],
        [500 + 50 * s + 10 * c, 50 * c - 10 * s],
        [500 - 50 * s + 10 * c, -50 * c - 10 * s],
      ]),
    )
    // Level, the plane y = 0 meets its near side on its own axis, its far side a little above that: 10/cos 30° further on.
    expect(plateCorners({ ...cover, tiltXDeg: 30 }, 'level', 0, 10)).toEqual(
      points([
        [500, -100],
        [500, 100],
        [500 + 10 / c, 100],
        [500 + 10 / c, -100],
      ]),
    )
  })
  test('tilted about y, its right edge (+x) goes back', () => {
    const [low, high] = plateCorners({ ...cover, tiltYDeg: 30 }, 'level', 0, 10)
    expect([low, high]).toEqual(
      points([
        [550, -100 * Math.cos(Math.PI / 6)],
        [450, 100 * Math.cos(Math.PI / 6)],
      ]),
    )
  })
  test('turned by 90° width and height change places; by 45° the section runs from edge to edge', () => {
    const half = (turnDeg: number) => chordOf({ ...cover, turnDeg }, 'upright')!
    expect(half(90).toMm).toBeCloseTo(100, 9)
    expect(half(45).toMm).toBeCloseTo(50 * Math.SQRT2, 9)
  })
  test('moved, and a disc cut beside its middle: half a chord is √(r² − d²)', () => {
    const disc: Cover = { ...cover, aperture: 'round', diameterMm: 100, decentreXMm: 30, decentreYMm: 7 }
    const { heightMm: _, ...round } = disc
    const chord = chordOf(round, 'upright')!
    expect([chord.at(chord.fromMm), chord.at(chord.toMm)]).toEqual(
      points([
        [500, 7 - 40],
        [500, 7 + 40],
      ]),
    )
    expect(chordOf({ ...round, decentreXMm: 51 }, 'upright')).toBeNull()
    expect(plateCorners({ ...cover, decentreYMm: 60 }, 'level', 0, 10)).toEqual([])
  })
})

describe('a piece of a Fresnel lens', () => {
  const lens: FresnelLens = { ...(gannetHead().lens as FresnelLens), pitchMm: 10, diameterMm: 100, draftDeg: 0 }
  const crests = (of: FresnelLens) => {
    const valleys = chordOf(of, 'upright', of.thicknessMm)!
    const line = groovesBetween(of, valleys, -1e9, 1e9)
    return line.filter(([z], i) => i > 0 && i < line.length - 1 && z > 1053.001).map(([, r]) => r)
  }
  test('rings are counted from the optical centre, also where it lies beside the piece', () => {
    // Centre 200 mm below the middle: the rings' risers cross the piece at −200 + 10 k.
    expect(crests({ ...lens, centreYMm: -200 })).toEqual(
      [-40, -30, -20, -10, 0, 10, 20, 30, 40].map((r) => expect.closeTo(r, 6)),
    )
    // 30 mm aside: the rings of 40 and 50 mm radius cross the section at √(k² − 30²) from the middle.
    const aside = crests({ ...lens, centreXMm: 30 })
    expect(aside).toContainEqual(expect.closeTo(Math.sqrt(40 ** 2 - 30 ** 2), 6))
    expect(aside).toContainEqual(expect.closeTo(-40, 6))
    expect(aside.some((r) => Math.abs(r) > 0.1 && Math.abs(r) < 26)).toBe(false)
  })
  test('focus and optical axis go with centre, place and tilt', () => {
    const ideal: Lens = { kind: 'ideal', zMm: 500, focalMm: 400, diameterMm: 100, centreYMm: -20, decentreYMm: 5 }
    expect(focusOf(ideal)).toEqual([0, -15, 100])
    expect(opticalAxis(ideal, 'upright', 100, 50)).toEqual([
      [400, -15],
      [550, -15],
    ])
    // Tilted by 30° its axis points along (0, −sin 30°, cos 30°): 400 mm back from (0, 0, 500).
    const tilted = focusOf({ ...ideal, centreYMm: 0, decentreYMm: 0, tiltXDeg: 30 })
    expect(tilted).toEqual([0, 200, 500 - 400 * Math.cos(Math.PI / 6)].map((x) => expect.closeTo(x, 6)))
    // A centre that the decentre brings back onto the axis is on it.
    expect(isOnAxis({ ...ideal, decentreYMm: 20 })).toBe(true)
    expect(isOnAxis(ideal)).toBe(false)
  })
})

test('the vertex of a tilted solid lens lies on its own axis', () => {
  const lens: SolidLens = {
    ...{ kind: 'solid', zMm: 300, diameterMm: 100, radiusMm: 120, conic: 0, thicknessMm: 20 },
    ...{ curved: 'target', material: 'crown', tiltXDeg: 30 },
  }
  // 20 mm along (0, −sin 30°, cos 30°).
  expect(curveLine(lens, chordOf(lens, 'upright')!)[48]).toEqual(points([[300 + 20 * Math.cos(Math.PI / 6), -10]])[0])
})

describe('the wall of a tunnel with a step', () => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const hexagon: Tunnel = {
    ...{ ...finish, sides: 6, inMm: 100, outMm: 300, zInMm: 0, zOutMm: 400 },
    joints: [{ zMm: 100, belowMm: 160, aboveMm: 220, ...finish }],
  }
  test('level across flats, upright over corners; at the step two points at one z', () => {
    expect(wallLine(hexagon, 'level', -1)).toEqual(
      points([
        [0, -50],
        [100, -80],
        [100, -110],
        [400, -150],
      ]),
    )
    const corner = 1 / Math.cos(Math.PI / 6)
    expect(wallLine(hexagon, 'upright', 1)).toEqual(
      points([
        [0, 50 * corner],
        [100, 80 * corner],
        [100, 110 * corner],
        [400, 150 * corner],
      ]),
    )
    const { joints: _, ...plain } = hexagon
    expect(wallLine(plain, 'level', 1)).toEqual(
      points([
        [0, 50],
        [400, 150],
      ]),
    )
  })
  test('a rectangle shows its height upright and its width level', () => {
    const t: Tunnel = {
      ...finish,
      sides: 4,
      inMm: 100,
      outMm: 200,
      inHeightMm: 40,
      outHeightMm: 60,
      zInMm: 10,
      zOutMm: 90,
    }
    expect(wallLine(t, 'upright', 1)).toEqual(
      points([
        [10, 20],
        [90, 30],
      ]),
    )
    expect(wallLine(t, 'level', 1)).toEqual(
      points([
        [10, 50],
        [90, 100],
      ]),
    )
  })
  test('rolled out: walls by their slopes, the step by its width, and back', () => {
    // Lengths: √(100² + 30²), 30, √(300² + 40²).
    const [a, b, c] = [Math.hypot(100, 30), 30, Math.hypot(300, 40)]
    const place = wallPlaces(hexagon, 'level', 1)
    const all = a + b + c
    expect([place(0), place(a / all / 2), place((a + b / 2) / all), place(1)]).toEqual(
      points([
        [0, 50],
        [50, 65],
        [100, 95],
        [400, 150],
      ]),
    )
    expect(wallShare(hexagon, { xMm: 65, yMm: 0, zMm: 50 })).toBeCloseTo(a / all / 2, 9)
    expect(wallShare(hexagon, { xMm: 0, yMm: 95 / Math.cos(Math.PI / 6), zMm: 100 })).toBeCloseTo((a + b / 2) / all, 9)
    expect(wallShare(hexagon, { xMm: 130, yMm: 0, zMm: 250 })).toBeCloseTo((a + b + c / 2) / all, 9)
  })
})

test.each([
  ['a rectangle', { sides: 4, inMm: 100, outMm: 300, inHeightMm: 60, outHeightMm: 110 }, [180, 70, 240, 90]],
  [
    'a rectangle with an edge that goes in',
    { sides: 4, inMm: 100, outMm: 200, inHeightMm: 60, outHeightMm: 50 },
    [180, 70, 140, 60],
  ],
  ['a hexagon', { sides: 6, inMm: 100, outMm: 300 }, [160, 160, 220, 220]],
  ['a round tunnel', { sides: 0, inMm: 100, outMm: 300 }, [160, 160, 120, 120]],
] as const)('a mark stands on the map of %s where the run counted it, on walls and steps', (_, sizes, joint) => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const [belowMm, belowHeightMm, aboveMm, aboveHeightMm] = joint
  const heights = sizes.sides === 4 ? { belowHeightMm, aboveHeightMm } : {}
  const tunnel: Tunnel = {
    ...{ ...finish, ...sizes, zInMm: 10, zOutMm: 400 },
    joints: [{ zMm: 120, belowMm, aboveMm, ...heights, ...finish }],
  }
  const [nAlong, nRound] = [20, 24]
  const profile = { rectangle: sizes.sides === 4, ...unroll(stretchesOf(tunnel)) }
  const wall = { ...{ nAlong, nRound, profile }, ...{ ...sizes, zInMm: 10, zOutMm: 400 } }
  const map: GridMap = {
    ...{ columns: nRound, rows: nAlong, fromX: 0, toX: nRound, fromY: 0, toY: profile.lengthMm },
    ...{ unit: 'mm', of: 'kW/m2', values: new Float32Array(nRound * nAlong) },
  }
  for (let row = 0.5; row < nAlong; row++)
    for (let column = 0.5; column < nRound; column++) {
      const { x, y } = positionOnUnrolledWall(map, profilePlace(wall, row, column), tunnel)
      expect(x).toBeCloseTo(column, 6)
      expect((y / profile.lengthMm) * nAlong).toBeCloseTo(row, 6)
    }
})

test('a mark stands on the map of a moved and tilted piece at its own x and y', () => {
  const piece = { zMm: 500, decentreXMm: 12, decentreYMm: -7, tiltXDeg: 20, tiltYDeg: -35, turnDeg: 50 }
  const [xMm, yMm, zMm] = fromFrame(piece, [30, -80, 0])
  const frame = { originMm: fromFrame(piece, [0, 0, 0]), rotation: rotationOf(piece) }
  const { x, y } = positionInFrame(frame, { xMm, yMm, zMm })
  expect([x, y]).toEqual([expect.closeTo(30, 9), expect.closeTo(-80, 9)])
})

// Boards on wedges and aimed optics, traced from both ends.
// Values by hand: rotations right-handed (Rodrigues); a Lambertian surface of flux Φ gives Φ cosθ/π at θ from its own normal (J. H. Lambert,
// Photometria (1760), from memory); of a small Lambertian surface's light a polygon takes Σ γ_i (n · m_i)/2π over its edges, γ_i the angle
// that an edge subtends, m_i the unit normal of the plane through edge and surface (Lambert's contour formula, from memory).
import { describe, expect, test } from 'vitest'
import { backwardIntensity, TRUSTED } from '../../src/engine/backward/estimate.ts'
import { backwardUnsupported } from '../../src/engine/backward/sources.ts'
import { spaceFromBoard } from '../../src/lamp/place.ts'
import type { Board, Lamp, OpticType } from '../../src/lamp/schema.ts'
import { expectValid } from '../../src/run/validate.ts'
import { expectWithin } from '../kit/expect.ts'
import { broadLamp, forwardBackward } from '../kit/forwardBackward.ts'
import { shaded, tilted } from '../kit/tiltedLamp.ts'
import { axialCd, endShare, exitsOf, oneEmitter, sceneOf, traceHere, tube } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const RAYS = 16_384

const onBoard = (lamp: Lamp, board: Partial<Board>): Lamp => ({ ...lamp, boards: [{ ...lamp.boards[0]!, ...board }] })
const narrow: OpticType = {
  ...{ kind: 'collimator', id: 'o', name: '', exitDiameterMm: 8, heightMm: 10 },
  ...{ fwhmDeg: 8, shape: 'gaussian', efficiency: 1 },
}

describe('a wedge', () => {
  test('of 10° about +y turns the beam’s axis by 10° towards +x', () => {
    const lamp = onBoard(oneEmitter({ optic: narrow }), { heightMm: 5, wedge: { tiltDeg: 10, axisDeg: 90 } })
    const run = traceHere(lamp, { rays: RAYS })
    expectValid(run)
    const exits = exitsOf(run)
    const n = exits.length
    const of = (value: (e: (typeof exits)[number]) => number) => exits.reduce((sum, e) => sum + value(e), 0) / n
    // The mean direction of a beam that is symmetric about its axis is that axis.
    expectWithin(
      Math.atan2(
        of((e) => e.dx),
        of((e) => e.dz),
      ) / RAD,
      10,
      {
        sigmas: 4,
        // A Gaussian of 8° scatters by 8°/2.355 in each slope; the sequence does better than chance.
        se: 3.4 / Math.sqrt(n),
      },
    )
    expectWithin(
      of((e) => e.dy),
      0,
      { sigmas: 4, se: 0.06 / Math.sqrt(n) },
    )
  })

  test('of 30°, a Lambertian emitter: Φ cos 30°/π on the axis, from both ends', () => {
    const lamp = onBoard(oneEmitter({ fluxLm: 1000, axialConeHalfDeg: 3 }), {
      wedge: { tiltDeg: -30, axisDeg: 40 },
      heightMm: 10,
    })
    const cd = (1000 / Math.PI) * Math.cos(30 * RAD)
    const run = traceHere(lamp, { rays: 65_536 })
    const forward = axialCd(run)
    expectWithin(forward.value, cd, { sigmas: 4, se: forward.se })
    const back = backwardIntensity(sceneOf(lamp), {
      thetaRad: 0,
      phiRad: 0,
      coneHalfRad: 0.25 * RAD,
      seed: 1,
      rays: 4096,
    })
    expectWithin(back.cd, cd, { rel: 1e-4, because: 'a cone of 0.25° about a slope of tan 30°' })
  })

  test('light sent down meets the face; an emitter under the face is blocked', () => {
    // Half of the light of a Lambertian surface on its edge goes down: (1 − cos τ)/2 at a tilt of τ.
    const lamp = onBoard(oneEmitter(), { heightMm: 10, wedge: { tiltDeg: 60, axisDeg: 0 } })
    const run = traceHere({ ...lamp, face: { ...lamp.face, sizeMm: 2000 } }, { rays: RAYS })
    const down = endShare(run, 'face', 'behindFace')
    expectWithin(down.value, (1 - Math.cos(60 * RAD)) / 2, { sigmas: 4, se: down.se + 1e-3 })
    const under = onBoard(oneEmitter({ sites: [{ xMm: 0, yMm: -10 }] }), { wedge: { tiltDeg: 20, axisDeg: 0 } })
    expect(endShare(traceHere(under, { rays: 256 }), 'blocked').value).toBe(1)
  })
})

test('a board tilted by 40° stops the light that a small source sends it: Lambert’s contour formula', () => {
  const lamp = oneEmitter()
  const size = { widthMm: 40, heightMm: 30 }
  lamp.boardTypes.push({ ...lamp.boardTypes[0]!, id: 'shade', outline: { shape: 'rectangle', ...size } })
  const shade = {
    ...{ ...lamp.boards[0]!, id: 'B2', type: 'shade', currentA: 0, xMm: 12, yMm: -6, turnDeg: 25 },
    ...{ heightMm: 40, wedge: { tiltDeg: 40, axisDeg: 110 } },
  }
  lamp.boards.push(shade)
  const corners = [
    [20, -15],
    [20, 15],
    [-20, 15],
    [-20, -15],
  ].map(([x, y]) => spaceFromBoard(shade, [x!, y!, 0]))
  let share = 0
  for (const [i, a] of corners.entries()) {
    const b = corners[(i + 1) % 4]!
    const cross = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]] as const
    const angle = Math.acos((a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / (Math.hypot(...a) * Math.hypot(...b)))
    share += (angle * cross[2]) / Math.hypot(...cross) / (2 * Math.PI)
  }
  const run = traceHere(lamp, { rays: 65_536 })
  expectValid(run)
  const stopped = endShare(run, 'face')
  expect(Math.abs(share)).toBeGreaterThan(0.1)
  expectWithin(stopped.value, Math.abs(share), { sigmas: 4, se: stopped.se + 1e-4 })
})

test('a white board far wider than its height sends light back down, not through', () => {
  const lamp = shaded(100)
  const run = traceHere({ ...lamp, face: { ...lamp.face, sizeMm: 400 } }, { rays: 4096 })
  const board = lamp.boards[1]!
  const [u, v, n] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ].map((axis) => spaceFromBoard({ ...board, xMm: 0, yMm: 0, heightMm: 0 }, axis as [number, number, number]))
  const along = (axis: readonly number[], x: number, y: number, z: number) => axis[0]! * x + axis[1]! * y + axis[2]! * z
  let fromBoard = 0
  for (const e of exitsOf(run)) {
    const p = [e.x - board.xMm, e.y - board.yMm, e.z - 30] as const
    const rise = along(n!, e.dx, e.dy, e.dz)
    // What the board itself sends out leaves its under side; what the face sends up goes past the board's edge.
    if (e.z > 1) {
      fromBoard++
      expect(rise).toBeLessThan(0)
      continue
    }
    const s = -along(n!, ...p) / rise
    const at = [u!, v!].map((axis) => Math.abs(along(axis, p[0] + s * e.dx, p[1] + s * e.dy, p[2] + s * e.dz)))
    expect(rise < 0 || Math.max(...at) > 49.9, JSON.stringify(e)).toBe(true)
  }
  expect(fromBoard).toBeGreaterThan(50)
})

describe('from both ends', () => {
  // Steep with boards that reflect, in a tunnel with a lens and without anything; a gentle one with a cup.
  const open = (seed: number): Lamp => {
    const lamp = broadLamp(seed)
    return { ...lamp, tunnel: null, lens: null, face: { ...lamp.face, reflectance: 0.8 } }
  }
  const bright = oneEmitter({ source: { shape: 'disc', diameterMm: 10 }, faceSizeMm: 200, faceReflectance: 0.9 })
  const steep = onBoard(bright, { heightMm: 10, wedge: { tiltDeg: 60, axisDeg: 10 } })
  const apart: number[] = []
  let reflected = 0
  const RAYS_EACH = { forward: 10_000, backward: 7_000 }
  const MORE = { forward: 20_000, backward: 40_000 }
  test.each([
    ['a steep board in a tunnel', tilted(broadLamp(14), 14, 50), 14],
    ['a steep board in the open', tilted(open(19), 19, 50), 19],
    ['a steep board below a lens', tilted(broadLamp(10), 10, 50), 10],
    ['a gentle wedge under a cup', tilted(broadLamp(11), 11, 9), 11],
    ['reflected light alone', shaded(70), 5],
    ['light that the face sends back', steep, 6],
  ] as const)('%s', (of, lamp, seed) => {
    expect(backwardUnsupported(sceneOf(lamp))).toEqual([])
    for (const band of forwardBackward(
      lamp,
      [0, 20, 40, 100],
      of === 'reflected light alone' ? MORE : RAYS_EACH,
      seed,
    )) {
      if (band.backward.effective < TRUSTED || !(band.forward.value > 0)) continue
      expect(Math.abs(band.apart), JSON.stringify(band)).toBeLessThan(4)
      apart.push(band.apart)
      if (of === 'reflected light alone') reflected++
    }
  })
  test('enough was compared', () => {
    expect(apart.length).toBeGreaterThanOrEqual(7)
    expect(reflected).toBeGreaterThanOrEqual(1)
  })
})

test('what can’t be traced backwards is said', () => {
  const tall = onBoard(oneEmitter({ tunnel: tube(40, 30) }), { heightMm: 40, wedge: { tiltDeg: 5, axisDeg: 0 } })
  expect(backwardUnsupported(sceneOf(tall)).join()).toContain('above the tunnel’s outlet')
})

test('turning the whole lamp by 90° turns every ray by 90°', () => {
  const lamp = tilted(broadLamp(19), 19, 50)
  const open = { ...lamp, tunnel: null, lens: null, face: { ...lamp.face, shape: 'round' as const, reflectance: 0 } }
  const [b] = open.boards
  const quarter = {
    ...b!,
    ...{ xMm: -b!.yMm, yMm: b!.xMm, turnDeg: b!.turnDeg + 90 },
    wedge: { ...b!.wedge!, axisDeg: b!.wedge!.axisDeg + 90 },
  }
  const at = open.aimAt
  const turned = { ...open, boards: [quarter], ...(at ? { aimAt: { ...at, xMm: -at.yMm, yMm: at.xMm } } : {}) }
  const [one, two] = [open, turned].map((l) => exitsOf(traceHere(l, { rays: 1024 })))
  expect(two!.length).toBe(one!.length)
  for (const [i, e] of one!.entries()) {
    const f = two![i]!
    const off = Math.hypot(
      f.dx + e.dy,
      f.dy - e.dx,
      f.dz - e.dz,
      (f.x + e.y) / 100,
      (f.y - e.x) / 100,
      (f.z - e.z) / 100,
    )
    expectWithin(off, 0, { abs: 1e-5, because: 'frames in single precision' })
  }
})

test('a lamp whose boards are flat and whose optics look straight keeps its arrays', () => {
  const lamp = broadLamp(6)
  const scene = sceneOf(lamp)
  const aim = { xDeg: 0, yDeg: 0 }
  const nought = onBoard(lamp, { heightMm: 0, wedge: { tiltDeg: 0, axisDeg: 30 }, aim })
  expect(sceneOf(nought)).toEqual(scene)
  expect([scene.frames.length, scene.boards.length]).toEqual([0, 0])
})

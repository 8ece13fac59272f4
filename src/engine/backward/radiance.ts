// Radiance collected by a backward ray: each emitter patch that it crosses on its way down adds its emitter's light in that direction.
// Emitters don't stop it: they are no obstacle to the forward tracer's returned light either.
import { nextMet } from '../../num/boxTree.ts'
import { seekInCup } from '../../optics/cupBack.ts'
import { profileDensity } from '../../optics/density.ts'
import { draw } from '../../optics/draws.ts'
import { enterFrame } from '../../optics/emitterFrame.ts'
import * as E from '../../optics/emitterRow.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import { DX, DY, DZ, RAY_SIZE, W, X, Y, Z } from '../../optics/records.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Plane, Sources } from './sources.ts'
import type { Spectra } from './spectrum.ts'

/** Most patches evaluated in one grid cell; of more, this many by systematic sampling. Only overlapping emitters reach it. */
const PATCHES_MOST = 12

export interface CollectedRadiance {
  /** Radiance met so far, 1/(mm² sr) for each watt emitted. */
  sum: number
  /** The ray goes on straight down to zTo: add what it crosses. */
  descend(zTo: number): void
  /** `r` stands in the mouth of emitter i's cup, in that emitter's own frame if it is tilted: add what comes up out of it. */
  intoCup(i: number, r: Float64Array): void
  /** `r` goes straight on for `reach` mm: add the tilted emitters that it crosses. */
  collect(r: Float64Array, reach: number): void
}

export function makeRadiance(
  scene: Scene,
  sources: Sources,
  spectra: Spectra,
  ray: Float64Array,
  stream: Int32Array,
): CollectedRadiance {
  const { emitters, frames, kinds, profiles } = scene
  const { planes, radiance, atX, atY, cup, planeZ, tilted } = sources
  const top = planes.length > 0 ? planes[0]!.zMm : Number.NEGATIVE_INFINITY
  const inCup = new Float64Array(RAY_SIZE)
  const own = new Float64Array(RAY_SIZE)
  const bounces = new Int32Array(1)

  /** Radiance of emitter i at (x, y) of its own patch against the direction of `r`; 0 beside the patch. */
  function radianceAt(i: number, x: number, y: number, r: Float64Array): number {
    const at = i * E.size
    const kind = emitters[at + E.kind]! * KIND.size
    const cos = emitters[at + E.cos]!
    const sin = emitters[at + E.sin]!
    const px = x - emitters[at + E.x]!
    const py = y - emitters[at + E.y]!
    const half = kinds[kind + KIND.halfX]!
    if (kinds[kind + KIND.disc]! > 0) {
      if (px * px + py * py > half * half) return 0
    } else if (Math.abs(cos * px + sin * py) > half || Math.abs(cos * py - sin * px) > kinds[kind + KIND.halfY]!)
      return 0
    const ratio = spectra.ratio[spectra.of[i]!]!
    if (ratio === 0) return 0
    const dx = -r[DX]!
    const dy = -r[DY]!
    const dz = -r[DZ]!
    const density = profileDensity(kinds, kind, profiles, cos * dx + sin * dy, cos * dy - sin * dx, dz)
    return (radiance[i]! * ratio * density) / dz
  }

  function intoCup(i: number, r: Float64Array): void {
    const kind = emitters[i * E.size + E.kind]! * KIND.size
    inCup.set(r)
    bounces[0] = 0
    while (seekInCup(inCup, kinds, kind, atX[i]!, atY[i]!, bounces)) {
      score.sum += inCup[W]! * radianceAt(i, inCup[X]!, inCup[Y]!, inCup)
    }
  }

  function ask(i: number, x: number, y: number, z: number, times: number, r: Float64Array): void {
    if (cup[i] === 0) {
      score.sum += times * r[W]! * radianceAt(i, x, y, r)
      return
    }
    const half = 0.5 * kinds[emitters[i * E.size + E.kind]! * KIND.size + KIND.cupExit]!
    const px = x - atX[i]!
    const py = y - atY[i]!
    if (px * px + py * py > half * half) return
    const [ox, oy, oz, ow] = [r[X]!, r[Y]!, r[Z]!, r[W]!]
    r[X] = x
    r[Y] = y
    r[Z] = z
    r[W] = ow * times
    intoCup(i, r)
    r[X] = ox
    r[Y] = oy
    r[Z] = oz
    r[W] = ow
  }

  /** Half-open as below: a patch that the way ends on counts, one that it starts from doesn't. */
  function collect(r: Float64Array, reach: number): void {
    if (!tilted || !(reach > 0)) return
    const { tree } = tilted
    for (let node = nextMet(tree, 0, r, reach); node < tree.item.length; node = nextMet(tree, node + 1, r, reach)) {
      const i = tilted.emitters[tree.item[node]!]!
      enterFrame(own, r, frames, i * FRAME.size)
      if (!(own[DZ]! < 0)) continue
      const s = (planeZ[i]! - own[Z]!) / own[DZ]!
      if (s > 0 && s <= reach) ask(i, own[X]! + s * own[DX]!, own[Y]! + s * own[DY]!, planeZ[i]!, 1, own)
    }
  }

  function crossPatches(plane: Plane): void {
    const s = (plane.zMm - ray[Z]!) / ray[DZ]!
    const x = ray[X]! + s * ray[DX]!
    const y = ray[Y]! + s * ray[DY]!
    const column = Math.floor((x - plane.fromX) * plane.perMm)
    const row = Math.floor((y - plane.fromY) * plane.perMm)
    if (column < 0 || row < 0 || column >= plane.columns || row >= plane.rows) return
    const cell = row * plane.columns + column
    const from = plane.start[cell]!
    const n = plane.start[cell + 1]! - from
    if (n <= PATCHES_MOST) {
      for (let k = 0; k < n; k++) ask(plane.items[from + k]!, x, y, plane.zMm, 1, ray)
      return
    }
    // Every (n / ASKED)-th from a random start: each has the same chance.
    const first = draw(stream)
    for (let k = 0; k < PATCHES_MOST; k++)
      ask(plane.items[from + Math.floor(((first + k) * n) / PATCHES_MOST)]!, x, y, plane.zMm, n / PATCHES_MOST, ray)
  }

  const score: CollectedRadiance = {
    sum: 0,
    descend(zTo) {
      if (zTo > top) return
      const zFrom = ray[Z]!
      for (let k = 0; k < planes.length; k++) {
        const z = planes[k]!.zMm
        // Half-open interval: a segment that ends on a plane and the segment that starts there count the plane once.
        if (z < zFrom && z >= zTo) crossPatches(planes[k]!)
      }
    },
    intoCup,
    collect,
  }
  return score
}

// The lens ring as it is printed: layer by layer, each flat on the bed and cut into pieces that fit it, the joints of one layer over the
// middles of the next, so that every joint is lapped. Screws go through all layers and clamp them.
import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { turnAboutZ } from '../num/rotation.ts'
import { fitsBed, mm, type Printer } from './bed.ts'
import { type LensRing, lensRingOf } from './lensRing.ts'
import { cannot, type Printed, type PrintedPiece, SOFTENS } from './printed.ts'
import { box, outlines, placed, prism, type Region, type Solid, shared } from './shape.ts'

/** Share of the bed's length that pieces use: a joint may move off a screw. */
const BED_SHARE = 0.92

const layerNames = ({ planesMm }: LensRing): string[] =>
  planesMm.length === 3 ? ['lip', 'second lip'] : ['lip', 'seat', 'second lip']

export function ringPieces(lamp: Lamp): Printed {
  const made = lensRingOf(lamp)
  if (!made.ok) return { ok: false, why: made.why, needed: made.needed }
  const { ring } = made
  const { printer } = workshopOf(lamp)
  const [outerX, outerY] = [2 * (ring.xMm + ring.widthMm), 2 * (ring.yMm + ring.widthMm)]
  const layers = layersOf(ring)
  const names = layerNames(ring)
  if (fitsBed(outerX, outerY, printer)) {
    const whole = layers.map((solid, k) => ({ name: `lens ring, ${names[k]}`, count: 1, solid }))
    return { ok: true, pieces: whole, notes: [SCREWED, SOFTENS] }
  }
  const acrossMm = ring.widthMm + ring.lipMm
  if (acrossMm > Math.min(printer.bedXMm, printer.bedYMm))
    return cannot(`The ring is ${mm(acrossMm)} from edge to edge; that is wider than the bed.`)
  const cutUp = ring.round ? arcs(ring, printer) : bars(ring, printer)
  if (!cutUp.ok) return cannot(cutUp.why)
  const pieces = layers.flatMap((solid, k) =>
    merged(cutUp.layers(k)).map(({ region, turnDeg, count }, i, all): PrintedPiece => {
      const lying = { rotation: turnAboutZ((turnDeg * Math.PI) / 180), shiftMm: [0, 0, 0] as const }
      const name = `lens ring, ${names[k]}${all.length > 1 ? `, piece ${i + 1}` : ''}`
      return { name, count, solid: placed(shared(solid, prism(region, -FAR_MM, FAR_MM)), lying) }
    }),
  )
  const loose = layers.flatMap((_, k) => cutUp.layers(k)).filter((c) => !c.screwed).length
  const glue = loose > 0 ? [`No screw goes through ${loose} of the pieces: glue the layers together as well.`] : []
  return { ok: true, pieces, notes: [SCREWED, ...glue, SOFTENS] }
}

const SCREWED =
  'Layers in the order lip, seat, second lip; joints of one lie over the middles of the next. Screws go through all of them.'

/** Beyond any ring's layers, mm. */
const FAR_MM = 1e4

function layersOf({ planesMm, xMm, yMm, widthMm, solid }: LensRing): Solid[] {
  const far = xMm + yMm + 2 * widthMm
  const all: Region = outlines(box(-far, -far, far, far))
  return planesMm.slice(1).map((to, k) => shared(solid, prism(all, planesMm[k] ?? 0, to)))
}

interface Cut {
  region: Region
  /** Turned by this, it lies along x. */
  turnDeg: number
  /** Pieces with the same key are alike. */
  key: string
  /** Whether a screw goes through it. */
  screwed: boolean
}

type CutUp = { ok: true; layers: (k: number) => Cut[] } | { ok: false; why: string }

function merged(cuts: readonly Cut[]): (Cut & { count: number })[] {
  const by = new Map<string, Cut & { count: number }>()
  for (const c of cuts) {
    const found = by.get(c.key)
    if (found) found.count++
    else by.set(c.key, { ...c, count: 1 })
  }
  return [...by.values()]
}

/** Box of an arc of so many degrees about +y: chord of its outer corners, and its rise. */
const arcBox = (outer: number, inner: number, deg: number): [number, number] => {
  const half = (Math.min(deg, 180) * Math.PI) / 360
  return [2 * outer * Math.sin(half), outer - inner * Math.cos(half)]
}

function arcs(ring: LensRing, printer: Printer): CutUp {
  const [outer, inner] = [ring.xMm + ring.widthMm, ring.xMm - ring.lipMm]
  let n = 2
  while (n < 200 && !fitsBed(...(arcBox(outer, inner, 360 / n / BED_SHARE) as [number, number]), printer)) n++
  const boltMm = ring.xMm + ring.widthMm / 2
  const hole = ring.screws[0]?.diameterMm ?? 0
  const clearDeg = ((hole / 2 + printer.wallMm) / boltMm) * (180 / Math.PI)
  const screws = ring.screws.map((s) => (Math.atan2(s.yMm, s.xMm) * 180) / Math.PI)
  const step = 360 / n
  if (2 * clearDeg > step)
    return {
      ok: false,
      why: `Arcs of ${mm(boltMm * step * (Math.PI / 180))} are too short for the screws. The bed is too small for this ring.`,
    }
  const layers = (k: number): Cut[] => {
    // The first between two screws; half an arc farther from layer to layer.
    const first = (k % 2) * (step / 2)
    const cuts = Array.from({ length: n }, (_, i) => awayFrom(first + i * step, screws, clearDeg))
    return cuts.map((from, i) => {
      const to = (cuts[(i + 1) % n] ?? from) + (i + 1 === n ? 360 : 0)
      const held = screws.map((s) => mod(s - from, 360)).filter((s) => s < to - from)
      return {
        screwed: held.length > 0,
        region: wedge(from, to, 2 * outer),
        turnDeg: 90 - (from + to) / 2,
        key: [to - from, ...held.sort((a, b) => a - b)].map((v) => v.toFixed(3)).join(' '),
      }
    })
  }
  return { ok: true, layers }
}

const mod = (a: number, n: number): number => ((a % n) + n) % n

/** The nearest place to `at` (degrees) that is clear of every screw. */
function awayFrom(at: number, screws: readonly number[], clear: number): number {
  for (const s of screws) {
    const off = mod(at - s + 180, 360) - 180
    if (Math.abs(off) < clear) return at - off + (off < 0 ? -clear : clear)
  }
  return at
}

/** A slice of a disc, from one direction to another, degrees. */
function wedge(fromDeg: number, toDeg: number, radiusMm: number): Region {
  const n = Math.max(1, Math.ceil((toDeg - fromDeg) / 45))
  // Corners farther out than the disc, so that no chord cuts it.
  const far = radiusMm / Math.cos((Math.PI * (toDeg - fromDeg)) / (360 * n))
  const edge = Array.from({ length: n + 1 }, (_, i) => {
    const at = ((fromDeg + ((toDeg - fromDeg) * i) / n) * Math.PI) / 180
    return [far * Math.cos(at), far * Math.sin(at)] as const
  })
  return outlines([[0, 0], ...edge])
}

/** Straight bars: in even layers those along x go through the corners, in odd ones those along y. */
function bars(ring: LensRing, printer: Printer): CutUp {
  const longest = BED_SHARE * Math.max(printer.bedXMm, printer.bedYMm)
  const [outX, outY] = [ring.xMm + ring.widthMm, ring.yMm + ring.widthMm]
  const [inX, inY] = [ring.xMm - ring.lipMm, ring.yMm - ring.lipMm]
  const hole = ring.screws[0]?.diameterMm ?? 0
  const clear = hole / 2 + printer.wallMm
  const layers = (k: number): Cut[] => {
    const alongX = k % 2 === 0
    const [halfX, halfY] = alongX ? [outX, inY] : [inX, outY]
    const sides = [
      { turnDeg: 0, half: halfX, inner: inY, outer: outY, sign: 1 },
      { turnDeg: 0, half: halfX, inner: inY, outer: outY, sign: -1 },
      { turnDeg: 90, half: halfY, inner: inX, outer: outX, sign: 1 },
      { turnDeg: 90, half: halfY, inner: inX, outer: outX, sign: -1 },
    ]
    return sides.flatMap((side, s) => {
      const isX = side.turnDeg === 0
      const on = ring.screws
        .filter((at) => {
          const offside = isX ? at.yMm : at.xMm
          return offside * side.sign > side.inner && Math.abs(isX ? at.xMm : at.yMm) < side.half
        })
        .map((at) => (isX ? at.xMm : at.yMm))
      const cuts = cutsAlong(side.half, longest, on, clear, k % 2 === 1)
      return cuts.slice(1).map((to, i) => {
        const from = cuts[i] ?? -side.half
        const [low, high] = side.sign > 0 ? [side.inner, side.outer] : [-side.outer, -side.inner]
        const held = on.filter((u) => u > from && u < to).map((u) => (side.sign > 0 ? u - from : to - u))
        const ends = side.sign > 0 ? [from, to] : [-to, -from]
        return {
          screwed: held.length > 0,
          region: outlines(isX ? box(from, low, to, high) : box(low, from, high, to)),
          turnDeg: isX ? 0 : 90,
          // The two bars of a pair are each other, turned by half a turn.
          key:
            [isX ? 'x' : 'y', ...ends, ...held.sort((a, b) => a - b)]
              .map((v) => (typeof v === 'number' ? v.toFixed(3) : v))
              .join(' ') + (isSymmetric(ring) ? '' : ` ${s}`),
        }
      })
    })
  }
  return { ok: true, layers }
}

/** Whether half a turn about z leaves its screws where they are. */
const isSymmetric = ({ screws }: LensRing): boolean =>
  screws.every((a) => screws.some((b) => Math.hypot(a.xMm + b.xMm, a.yMm + b.yMm) < 1e-6))

/** Ends and joints of a bar from −half to half; `shifted`: joints over the middles of the others' pieces. */
function cutsAlong(
  half: number,
  longest: number,
  screws: readonly number[],
  clear: number,
  shifted: boolean,
): number[] {
  const n = Math.ceil((2 * half) / longest)
  const step = (2 * half) / n
  const at = Array.from({ length: shifted ? n : n - 1 }, (_, i) => -half + (i + (shifted ? 0.5 : 1)) * step)
  // A bar of one piece is not cut in the other layer either.
  const joints = n === 1 ? [] : at
  const moved = joints.map((u) => {
    const near = screws.find((s) => Math.abs(s - u) < clear)
    return near === undefined ? u : near + (u < near ? -clear : clear)
  })
  return [-half, ...moved, half]
}

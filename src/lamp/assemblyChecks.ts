// What single numbers of stretches and elements can't say alone: joints that rise, sizes that go together, elements that don't run into each other.
import type { Vector } from '../num/rotation.ts'
import { isRectangle, pieceHalves } from './assembly.ts'
import { bodyPlanes, fromFrame, normalOf, outlinePoints, rotationOf, spanAlong, surfaceZ } from './body.ts'
import { findOneLensFaults } from './lensChecks.ts'
import { LIMITS } from './limits.ts'
import { findLensMaterialFaults } from './materialChecks.ts'
import type { DiffuserFilm, Element, Lamp, Lens, Tunnel } from './schema.ts'

type Piece = Lens | Element

/** One sentence for each fault of tunnel, elements and their row; those of the lens by itself: lensChecks.ts. */
export function findAssemblyFaults(lamp: Lamp): string[] {
  const why = lamp.tunnel ? findTunnelFaults(lamp.tunnel) : []
  if (lamp.lens) why.push(...findSizeFaults(lamp.lens, 'lens'))
  for (const [i, e] of (lamp.elements ?? []).entries()) {
    const where = `elements[${i}]`
    why.push(...findSizeFaults(e, where))
    if (e.kind === 'diffuser') why.push(...findFilmFaults(e, where))
    else if (e.kind === 'cover') why.push(...findLensMaterialFaults(e, where))
    else why.push(...findOneLensFaults(e, where))
  }
  return why.length > 0 ? why : findRowFaults(lamp)
}

function findFilmFaults({ transmittance, reflectance }: DiffuserFilm, where: string): string[] {
  if (transmittance + reflectance <= 1 + 1e-9) return []
  return [
    `${where}.reflectance: ${reflectance} does not fit; expected at most ${Number((1 - transmittance).toPrecision(6))}, what ${where}.transmittance (${transmittance}) leaves.`,
  ]
}

function findTunnelFaults(t: Tunnel): string[] {
  const why: string[] = []
  // One height alone says that a rectangle is meant.
  const rectangle = isRectangle(t) || t.outHeightMm !== undefined
  if (rectangle && t.sides !== 4) why.push(`tunnel.sides: ${t.sides} does not fit; a rectangle has 4.`)
  const heights = (of: object, keys: readonly string[], where: string) => {
    for (const key of keys) {
      const value = (of as Record<string, unknown>)[key]
      if (rectangle && value === undefined)
        why.push(
          `${where}.${key}: nothing stands here; a rectangle has a height at both ends and on both sides of each joint.`,
        )
      if (!rectangle && value !== undefined)
        why.push(
          `${where}.${key}: ${value} does not fit; only a rectangle has it, and needs tunnel.inHeightMm and tunnel.outHeightMm.`,
        )
    }
  }
  heights(t, ['inHeightMm', 'outHeightMm'], 'tunnel')
  why.push(...findTableFaults(t, 'tunnel'))
  let before = { zMm: t.zInMm, name: 'tunnel.zInMm' }
  for (const [i, j] of (t.joints ?? []).entries()) {
    const where = `tunnel.joints[${i}]`
    heights(j, ['belowHeightMm', 'aboveHeightMm'], where)
    why.push(...findTableFaults(j, where))
    const fault = findJointFault(j.zMm, before, t.zOutMm)
    if (fault) why.push(`${where}.zMm: ${j.zMm} does not fit; ${fault}.`)
    before = { zMm: j.zMm, name: `${where}.zMm` }
  }
  return why
}

function findJointFault(zMm: number, before: { zMm: number; name: string }, endMm: number): string | null {
  const nearly = zMm > before.zMm && zMm < endMm ? `, by at least ${LIMITS.stretchMm}` : ''
  if (zMm < before.zMm + LIMITS.stretchMm - 1e-9) return `expected more than ${before.name} (${before.zMm})${nearly}`
  return zMm > endMm - LIMITS.stretchMm + 1e-9 ? `expected less than tunnel.zOutMm (${endMm})${nearly}` : null
}

function findTableFaults({ reflectanceByNm }: Pick<Tunnel, 'reflectanceByNm'>, where: string): string[] {
  let before = Number.NEGATIVE_INFINITY
  return (reflectanceByNm ?? []).flatMap(({ nm }, i) => {
    const rises = nm >= before + LIMITS.tableStep
    const nearly = nm > before ? `, by at least ${LIMITS.tableStep}` : ''
    before = nm
    return rises ? [] : [`${where}.reflectanceByNm[${i}].nm: ${nm} does not fit; the column must rise${nearly}.`]
  })
}

function findSizeFaults(piece: Piece, where: string): string[] {
  if (piece.aperture === 'rectangle' && piece.heightMm === undefined)
    return [`${where}.heightMm: nothing stands here; a rectangle needs it.`]
  if (piece.aperture !== 'rectangle' && piece.heightMm !== undefined)
    return [`${where}.heightMm: ${piece.heightMm} does not fit; only a rectangle has it.`]
  return []
}

const round = (x: number) => Math.round(x * 100) / 100

/** The lens and the elements with the place each is written at, by the z that light meets first. */
const placesOf = (lamp: Lamp): { of: Piece; at: string; name: string }[] =>
  [
    ...(lamp.lens ? [{ of: lamp.lens as Piece, at: 'lens', name: 'the lens' }] : []),
    ...(lamp.elements ?? []).map((of, i) => ({ of, at: `elements[${i}]`, name: `"${of.name}"` })),
  ].sort((a, b) => a.of.zMm - b.of.zMm)

/** Light meets the elements in the order of their z: each lies before the next wherever one stands over the other. */
function findRowFaults(lamp: Lamp): string[] {
  const row = placesOf(lamp)
  const why: string[] = []
  const end = lamp.tunnel?.zOutMm
  for (const [i, { of, at, name }] of row.entries()) {
    const near = nearestZ(of)
    // An untilted lens has its sentences already (lensChecks.ts).
    const reported = at === 'lens' && !isTilted(of)
    const back = `${at}.zMm: ${name} reaches back to ${round(near)} mm`
    if (end !== undefined && near < end - 1e-6 && !reported)
      why.push(`${back}, into the tunnel that ends at ${end} mm.`)
    if (near <= 0 && !reported) why.push(`${back}, into the face.`)
    for (const next of row.slice(i + 1)) {
      const overMm = overlapMm(of, next.of)
      if (overMm > TOUCH_MM) why.push(`${next.at}.zMm: ${next.name} reaches ${round(overMm)} mm into ${name}.`)
      else if (!isBefore(of, next.of))
        why.push(
          `${next.at}.zMm: the planes of ${next.name} and ${name} cut through each other; tilt less, or move apart.`,
        )
    }
  }
  return why
}

const TOUCH_MM = 1e-6

/** Whether one of two bodies lies wholly on its side of the other's plane: rays between them go to the nearer plane ahead. */
function isBefore(a: Piece, b: Piece): boolean {
  const planeAt = (e: Piece, n: Vector, z: number) =>
    (e.decentreXMm ?? 0) * n[0] + (e.decentreYMm ?? 0) * n[1] + e.zMm * n[2] + z
  const [na, nb] = [normalOf(a), normalOf(b)]
  return (
    spanAlong(a, nb)[1] <= planeAt(b, nb, bodyPlanes(b)[0]) + TOUCH_MM ||
    spanAlong(b, na)[0] >= planeAt(a, na, bodyPlanes(a)[1]) - TOUCH_MM
  )
}

const isTilted = (e: Piece): boolean => Boolean(e.tiltXDeg || e.tiltYDeg)

/** Least z of the body in the lamp, mm: its nearest corner, or the nearest point of a round one's edge. */
function nearestZ(piece: Piece): number {
  const { round: isRound, xMm, yMm } = pieceHalves(piece)
  const [, , , , , , zx, zy, zz] = rotationOf(piece)
  const aside = isRound ? xMm * Math.hypot(zx, zy) : xMm * Math.abs(zx) + yMm * Math.abs(zy)
  return piece.zMm - aside + zz * bodyPlanes(piece)[0]
}

/** How deep the later of two bodies stands in the earlier one where they lie one over the other along z, mm: by the outlines of both. */
function overlapMm(before: Piece, after: Piece): number {
  const far = bodyPlanes(before)[1]
  const near = bodyPlanes(after)[0]
  let most = 0
  for (const [of, other, h, hOther, way] of [
    [before, after, far, near, 1],
    [after, before, near, far, -1],
  ] as const) {
    for (const [px, py] of outlinePoints(of)) {
      const [x, y, z] = fromFrame(of, [px, py, h])
      const there = surfaceZ(other, x, y, hOther)
      if (there !== null) most = Math.max(most, way * (z - there))
    }
  }
  return most
}

// What single numbers of stretches and elements can't say alone: joints that rise, sizes that go together, elements that don't run into each other.
import { isRectangle } from './assembly.ts'
import { LIMITS } from './limits.ts'
import { findLensMaterialFaults } from './materialChecks.ts'
import { bodySpan, boxOf, isOver, lampFromPiece, outlineOf, type Piece, pieceRotation } from './piece.ts'
import type { DiffuserFilm, Lamp, Lens, Tunnel } from './schema.ts'

/** What is wrong with a lens wherever it stands, by the place it is written at. */
type FindLens = (lens: Lens, where: string) => string[]

/** One sentence for each fault; `findLens` gives those of a lens by itself, which each further lens can have as well. */
export function findAssemblyFaults(lamp: Lamp, findLens: FindLens): string[] {
  const why = lamp.tunnel ? findTunnelFaults(lamp.tunnel) : []
  if (lamp.lens) why.push(...findSizeFaults(lamp.lens, 'lens'))
  for (const [i, e] of (lamp.elements ?? []).entries()) {
    const where = `elements[${i}]`
    why.push(...findSizeFaults(e, where))
    if (e.kind === 'diffuser') why.push(...findFilmFaults(e, where))
    else if (e.kind === 'cover') why.push(...findLensMaterialFaults(e, where))
    else why.push(...findLens(e, where))
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
  const nearly = zMm > before.zMm && zMm < endMm ? `, by at least ${LIMITS.tableStep}` : ''
  if (zMm < before.zMm + LIMITS.tableStep) return `expected more than ${before.name} (${before.zMm})${nearly}`
  return zMm > endMm - LIMITS.tableStep ? `expected less than tunnel.zOutMm (${endMm})${nearly}` : null
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
    const near = boxOf(of).from[2]
    // An untilted lens has its sentences already (read.ts).
    const reported = at === 'lens' && !isTilted(of)
    const back = `${at}.zMm: ${name} reaches back to ${round(near)} mm`
    if (end !== undefined && near < end - 1e-6 && !reported)
      why.push(`${back}, into the tunnel that ends at ${end} mm.`)
    if (near <= 0 && !reported) why.push(`${back}, into the face.`)
    for (const next of row.slice(i + 1)) {
      const overMm = overlapMm(of, next.of)
      if (overMm > 1e-6) why.push(`${next.at}.zMm: ${next.name} reaches ${round(overMm)} mm into ${name}.`)
    }
  }
  return why
}

const isTilted = (e: Piece): boolean => Boolean(e.tiltXDeg || e.tiltYDeg)

/** How deep the later of two bodies stands in the earlier one where they lie one over the other along z, mm: by the outlines of both. */
function overlapMm(before: Piece, after: Piece): number {
  const far = bodySpan(before)[1]
  const near = bodySpan(after)[0]
  let most = 0
  for (const [of, other, h, hOther, way] of [
    [before, after, far, near, 1],
    [after, before, near, far, -1],
  ] as const) {
    const place = lampFromPiece(of)
    for (const p of [...outlineOf(of), [0, 0] as const]) {
      const [x, y, z] = place([p[0], p[1], h])
      const there = surfaceZ(other, x, y, hOther)
      if (there !== null) most = Math.max(most, way * (z - there))
    }
  }
  return most
}

/** z of a plane of the piece, hMm over its own, where a line along the lamp's z meets it; null beside the piece. */
function surfaceZ(piece: Piece, x: number, y: number, hMm: number): number | null {
  const r = pieceRotation(piece)
  const at = lampFromPiece(piece)([0, 0, hMm])
  // The plane's normal is the frame's z: the third column.
  const [nx, ny, nz] = [r[0][2], r[1][2], r[2][2]]
  const dz = -(nx * (x - at[0]) + ny * (y - at[1])) / nz
  const d = [x - at[0], y - at[1], dz] as const
  const own = (c: 0 | 1) => r[0][c] * d[0] + r[1][c] * d[1] + r[2][c] * d[2]
  return isOver(piece, own(0), own(1)) ? at[2] + dz : null
}

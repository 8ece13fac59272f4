// What single numbers of stretches and elements can't say alone: joints that rise, sizes that go together, elements that don't run into each other.
import { elementsOf, isRectangle, rowOrder } from './assembly.ts'
import { LIMITS } from './limits.ts'
import { bodySpan, boxOf, isOver, lampFromPiece, outlineOf, type Piece, pieceRotation } from './piece.ts'
import type { Lamp, Lens, Tunnel } from './schema.ts'

/** One sentence for each fault; `findLens` gives those of a lens by itself, which each further lens can have as well. */
export function findAssemblyFaults(lamp: Lamp, findLens: (lens: Lens) => string[]): string[] {
  const why = lamp.tunnel ? findTunnelFaults(lamp.tunnel) : []
  if (lamp.lens) why.push(...findSizeFaults(lamp.lens, 'lens'))
  for (const [i, e] of (lamp.elements ?? []).entries()) {
    const where = `elements[${i}]`
    why.push(...findSizeFaults(e, where))
    if (e.kind === 'diffuser') {
      if (e.transmittance + e.reflectance > 1)
        why.push(`${where}.transmittance: with the reflectance it makes more than 1.`)
    } else if (e.kind === 'cover') {
      if (e.material === 'own' && !e.ownMaterial)
        why.push(`${where}.ownMaterial: nothing stands here; expected the material that ${where}.material names.`)
    } else why.push(...findLens(e).map((line) => line.replaceAll('lens.', `${where}.`)))
  }
  return why.length > 0 ? why : findRowFaults(lamp)
}

function findTunnelFaults(t: Tunnel): string[] {
  const why: string[] = []
  const rectangle = isRectangle(t)
  if (rectangle && t.sides !== 4) why.push(`tunnel.sides: ${t.sides} does not fit; a rectangle has 4.`)
  const both = (of: object, keys: readonly string[], where: string) => {
    for (const key of keys)
      if (key in of !== rectangle)
        why.push(
          `${where}${key}: ${rectangle ? 'nothing stands here; a rectangle needs it' : 'only a rectangle has it, at each end and joint'}.`,
        )
  }
  both(t, ['inHeightMm', 'outHeightMm'], 'tunnel.')
  const rising = (rows: Tunnel['reflectanceByNm'], where: string) => {
    for (const [i, row] of (rows ?? []).entries())
      if (i > 0 && row.nm < rows![i - 1]!.nm + LIMITS.tableStep)
        why.push(`${where}reflectanceByNm[${i}].nm: ${row.nm} does not fit; the column must rise.`)
  }
  rising(t.reflectanceByNm, 'tunnel.')
  let before = t.zInMm
  for (const [i, j] of (t.joints ?? []).entries()) {
    both(j, ['belowHeightMm', 'aboveHeightMm'], `tunnel.joints[${i}].`)
    rising(j.reflectanceByNm, `tunnel.joints[${i}].`)
    if (j.zMm < before + LIMITS.tableStep || j.zMm > t.zOutMm - LIMITS.tableStep)
      why.push(
        `tunnel.joints[${i}].zMm: ${j.zMm} does not fit; joints rise from ${t.zInMm} to ${t.zOutMm}, the tunnel’s ends.`,
      )
    before = Math.max(before, j.zMm)
  }
  return why
}

function findSizeFaults(piece: Piece, where: string): string[] {
  if (piece.aperture === 'rectangle' && piece.heightMm === undefined)
    return [`${where}.heightMm: nothing stands here; a rectangle needs it.`]
  if (piece.aperture !== 'rectangle' && piece.heightMm !== undefined)
    return [`${where}.heightMm: only a rectangle has it.`]
  return []
}

const round = (x: number) => Math.round(x * 100) / 100

/** Light meets the elements in the order of their z: each lies before the next wherever one stands over the other. */
function findRowFaults(lamp: Lamp): string[] {
  const row = elementsOf(lamp)
  const why: string[] = []
  const order = rowOrder(lamp)
  const whereOf = (i: number): string => (order[i]! < 0 ? 'lens' : `elements[${order[i]}]`)
  const end = lamp.tunnel?.zOutMm
  for (const [i, e] of row.entries()) {
    const near = boxOf(e).from[2]
    if (end !== undefined && near < end - 1e-6 && !(e.isLens && !isTilted(e)))
      why.push(
        `${whereOf(i)}.zMm: “${e.name}” reaches back to ${round(near)} mm, into the tunnel that ends at ${end} mm.`,
      )
    if (near <= 0 && !e.isLens)
      why.push(`${whereOf(i)}.zMm: “${e.name}” reaches back to ${round(near)} mm, into the face.`)
    for (const [k, next] of row.entries()) {
      if (k <= i) continue
      const overMm = overlapMm(e, next)
      if (overMm > 1e-6) why.push(`${whereOf(k)}.zMm: “${next.name}” runs ${round(overMm)} mm into “${e.name}”.`)
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

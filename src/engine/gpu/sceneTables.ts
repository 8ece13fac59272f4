// Packs the scene's arrays into the shader's buffers (`data`: numbers, `quads`: vectors of four, `pairs`: of two).
import * as E from '../../optics/emitterRow.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import * as RING from '../../optics/ringRow.ts'
import type { Scene } from '../../scene/scene.ts'
import { W_STEP } from './readBack.ts'
import type { TableStarts } from './setup.ts'

export interface Tables {
  /** Kinds, profiles, the cosine and sine towards each side of a polygon: single numbers. */
  data: Float32Array<ArrayBuffer>
  /**
   * What every ray looks up, in the vectors that it takes them in: a lane that reads from a place of its own pays by the read. Whole numbers
   * stand there as such: in a shader every conversion is three instructions. In this order: the emitters' places; their kinds, shares, aliases
   * and the aliases' kinds; the kinds as they are; what emission reads of them; of each wavelength and the next index and efficacy; of each ring
   * sine, cosine, tip, cotangent; the tilted emitters' frames, three vectors each; of each node of the profiles c, intensity, share below, slope.
   */
  quads: Uint32Array<ArrayBuffer>
  /** The quantiles of the spectra, each with the one after it. */
  pairs: Float32Array<ArrayBuffer>
  starts: TableStarts
}

/** The last node of a profile ends the search: no draw is as large. */
const PAST_ALL = 2

const known = new WeakMap<Scene, Tables>()

/** Memoized by scene; shared by forward and backward tracing. Read only. */
export function sceneTables(scene: Scene): Tables {
  const tables = known.get(scene) ?? packTables(scene)
  known.set(scene, tables)
  return tables
}

function packTables(scene: Scene): Tables {
  const { params, emitters, frames, kinds, quantiles, lensIndex, lumPerWatt, rings } = scene
  const sides = params[P.sides]!
  const sideNormals = Float32Array.from({ length: 2 * sides }, (_, i) => {
    const phi = (2 * Math.PI * (i >> 1)) / sides
    return i % 2 === 0 ? Math.cos(phi) : Math.sin(phi)
  })
  const counts = [emitters.length / E.size, emitters.length / E.size, kinds.length / 4, (2 * kinds.length) / KIND.size]
  counts.push(lensIndex.length - 1, rings.length / RING.size, (3 * frames.length) / FRAME.size)
  const [, choicesAt, kindQuadsAt, emissionQuadsAt, colourQuadsAt, ringQuadsAt, framesAt = 0, nodesAt] =
    startsOf(counts)
  const nodes = profileNodes(scene, nodesAt!)
  const table = concatenate([kinds, nodes.profiles, sideNormals])
  const [kindsAt, profilesAt, sidesAt] = table.starts

  const floats = new Float32Array(4 * nodesAt! + nodes.rows.length)
  const quads = new Uint32Array(floats.buffer)
  rowsInto(floats, 0, emitters, E.size, [E.x, E.y, E.cos, E.sin])
  for (let i = 0; i < counts[0]!; i++) {
    const at = 4 * (choicesAt! + i)
    const alias = emitters[i * E.size + E.alias]!
    quads.set([emitters[i * E.size + E.kind]!, 0, alias, emitters[alias * E.size + E.kind]!], at)
    floats[at + 1] = emitters[i * E.size + E.aliasShare]!
  }
  floats.set(kinds, 4 * kindQuadsAt!)
  for (let at = 0, to = 4 * emissionQuadsAt!; at < kinds.length; at += KIND.size, to += 8) {
    const guide = nodes.guides.get(kinds[at + KIND.profileAt]!) ?? 0
    floats.set(
      [KIND.halfX, KIND.halfY, KIND.disc, KIND.z].map((field) => kinds[at + field]!),
      to,
    )
    quads[to + 4] = kinds[at + KIND.profile]!
    if (kinds[at + KIND.profile] === 0) floats[to + 5] = kinds[at + KIND.profileAt]!
    else quads[to + 5] = profilesAt! + (kinds[at + KIND.profile] === 1 ? guide : kinds[at + KIND.profileAt]!)
    quads[to + 6] = Math.round(kinds[at + KIND.efficiency]! / W_STEP)
    quads[to + 7] = kinds[at + KIND.spectrumAt]!
  }
  for (let i = 0; i < lensIndex.length - 1; i++)
    floats.set([lensIndex[i]!, lensIndex[i + 1]!, lumPerWatt[i]!, lumPerWatt[i + 1]!], 4 * (colourQuadsAt! + i))
  rowsInto(floats, ringQuadsAt!, rings, RING.size, [RING.sin, RING.cos, RING.tip, RING.cot])
  for (let at = 0, to = 4 * framesAt; at < frames.length; at += FRAME.size) {
    for (let axis = 0; axis < 3; axis++, to += 4) {
      const row = at + FRAME.rotation + 3 * axis
      floats.set([...frames.subarray(row, row + 3), frames[at + FRAME.x + axis]!], to)
    }
  }
  floats.set(nodes.rows, 4 * nodesAt!)

  const pairs = new Float32Array(2 * quantiles.length)
  for (let i = 0; i < quantiles.length; i++)
    pairs.set([quantiles[i]!, quantiles[Math.min(i + 1, quantiles.length - 1)]!], 2 * i)
  const starts = {
    kindsAt: kindsAt!,
    profilesAt: profilesAt!,
    sidesAt: sidesAt!,
    kindQuadsAt: kindQuadsAt!,
    emissionQuadsAt: emissionQuadsAt!,
    colourQuadsAt: colourQuadsAt!,
    ringQuadsAt: ringQuadsAt!,
    framesAt,
  }
  return { data: table.data, quads, pairs, starts }
}

function startsOf(counts: readonly number[]): number[] {
  const starts = [0]
  for (const count of counts) starts.push(starts.at(-1)! + count)
  return starts
}

/**
 * The nodes of every profile as rows of four, and the profiles with guides that name such a row instead of a node. By its table's beginning,
 * where each guide begins.
 */
function profileNodes({ kinds, profiles }: Scene, nodesAt: number) {
  const guides = new Map<number, number>()
  const own = profiles.slice()
  const rows: number[] = []
  const add = (table: number) => {
    if (guides.has(table)) return
    const n = profiles[table]!
    const first = nodesAt + rows.length / 4
    const node = (list: number, i: number) => profiles[table + 2 + list * n + i]!
    for (let i = 0; i < n; i++) rows.push(node(0, i), node(1, i), i < n - 1 ? node(2, i) : PAST_ALL, node(3, i))
    const guide = table + 2 + 4 * n
    for (let g = 0; g < profiles[table + 1]!; g++) own[guide + g] = first + profiles[guide + g]!
    guides.set(table, guide)
  }
  for (let at = 0; at < kinds.length; at += KIND.size) {
    const start = kinds[at + KIND.profileAt]!
    if (kinds[at + KIND.profile] === 1) add(start)
    if (kinds[at + KIND.profile] === 2)
      for (let row = 0; row < kinds[at + KIND.profileRows]!; row++) add(profiles[start + 5 * row + 1]!)
  }
  return { guides, profiles: own, rows: Float32Array.from(rows) }
}

function concatenate(parts: readonly Float32Array[]): { data: Float32Array<ArrayBuffer>; starts: number[] } {
  const starts = startsOf(parts.map((part) => part.length))
  const data = new Float32Array(starts.at(-1)!)
  for (const [i, part] of parts.entries()) data.set(part, starts[i])
  return { data, starts }
}

/** Of each row of `size` numbers the four that are named. */
function rowsInto(to: Float32Array, at: number, from: Float32Array, size: number, fields: readonly number[]): void {
  for (let row = 0; row < from.length / size; row++)
    for (const [i, field] of fields.entries()) to[4 * (at + row) + i] = from[row * size + field]!
}

// Files of a lamp's parts: what a printer and what other programs take.
import type { Lamp } from '../lamp/schema.ts'
import { GROUPS } from '../solids/assembly.ts'
import type { Kernel } from '../solids/kernel.ts'
import { assemblyMeshes, makePart, PARTS, type PartName } from '../solids/parts.ts'
import { type GlbPart, writeGlb } from './glb.ts'
import { writeStl } from './stl.ts'

export interface StlFile {
  /** What it is of: goes into the file's name. */
  name: string
  /** So many of it are wanted. */
  count: number
  bytes: Uint8Array
}

export type StlFiles = { ok: true; files: StlFile[]; notes: string[] } | { ok: false; why: string }

/** Binary STL, mm: a file for each piece of a printed part, lying on the bed; of another part one file, where it stands in the lamp. */
export function partStl(kernel: Kernel, lamp: Lamp, name: PartName): StlFiles {
  const made = makePart(kernel, lamp, name)
  if (!made.ok) return made
  const { pieces, notes } = made
  const title = (what: string) => `${lamp.name}, ${what}`
  if (PARTS.find((p) => p.name === name)?.printed)
    return {
      ok: true,
      files: pieces.map((p) => ({ name: p.name, count: p.count, bytes: writeStl([p.mesh], title(p.name)) })),
      notes,
    }
  const bytes = writeStl(
    pieces.map((p) => p.mesh),
    title(name),
  )
  return { ok: true, files: [{ name, count: 1, bytes }], notes }
}

export type GlbFile = { ok: true; bytes: Uint8Array; parts: number; notes: string[] } | { ok: false; why: string }

/** Room between printed pieces laid out side by side, mm. */
const APART_MM = 10

/** Binary glTF of a part: of the assembly and its groups each part by name where it stands; of a printed part its pieces side by side. */
export async function partGlb(kernel: Kernel, lamp: Lamp, name: PartName): Promise<GlbFile> {
  if (name === 'assembly') return assemblyGlb(kernel, lamp)
  const made = makePart(kernel, lamp, name)
  if (!made.ok) return made
  const isPrinted = PARTS.find((p) => p.name === name)?.printed
  const material = isPrinted ? 'printed' : undefined
  if (!material) return groupGlb(kernel, lamp, name)
  let x = 0
  const parts = made.pieces.map(({ name: called, mesh }): GlbPart => {
    const part: GlbPart = { name: called, material, mesh, place: lying(x) }
    let wide = 0
    for (let i = 0; i < mesh.position.length; i += 3) wide = Math.max(wide, mesh.position[i] ?? 0)
    x += wide + APART_MM
    return part
  })
  return {
    ok: true,
    bytes: await writeGlb(parts, `${lamp.name}, ${name}`, PRINTED_NOTE),
    parts: parts.length,
    notes: made.notes,
  }
}

/** The bed's z becomes glTF's +Y. */
const lying = (xMm: number): NonNullable<GlbPart['place']> => ({
  rotation: [1, 0, 0, 0, 0, 1, 0, -1, 0],
  shiftMm: [xMm, 0, 0],
})

const PRINTED_NOTE = 'Pieces side by side as they are printed, one of each kind.'
const STANDING_NOTE =
  'The lamp stands level: its beam goes along +Z, its y is +Y, the middle of its face is the origin.'

/** Binary glTF of the whole lamp: metres, +Y up, the beam along +Z. */
export const assemblyGlb = (kernel: Kernel, lamp: Lamp): Promise<GlbFile> => groupGlb(kernel, lamp, 'assembly')

async function groupGlb(kernel: Kernel, lamp: Lamp, name: PartName): Promise<GlbFile> {
  const groups = GROUPS.filter((g) => name === 'assembly' || g === name)
  const parts = assemblyMeshes(kernel, lamp, groups)
  const title = name === 'assembly' ? lamp.name : `${lamp.name}, ${name}`
  return { ok: true, bytes: await writeGlb(parts, title, STANDING_NOTE), parts: parts.length, notes: [] }
}

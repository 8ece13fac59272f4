// Files of a lamp's parts: what a printer and what other programs take.
import type { Lamp } from '../lamp/schema.ts'
import { GROUPS } from '../solids/assembly.ts'
import type { Kernel } from '../solids/kernel.ts'
import { meshBox } from '../solids/mesh.ts'
import { assemblyMeshes, isPrinted, type MadePiece, makePart, type PartName } from '../solids/parts.ts'
import { type GlbPart, writeGlb } from './glb.ts'
import { writeStl } from './stl.ts'

interface StlFile {
  /** What it is of: goes into the file's name. */
  name: string
  /** So many of it are wanted. */
  count: number
  bytes: Uint8Array
  /** Of one, filled with the printer's material, g; absent: it is not printed. */
  massG?: number
}

export type StlFiles = { ok: true; files: StlFile[]; notes: string[] } | { ok: false; why: string }

/** Binary STL, mm: a file for each piece of a printed part, lying on the bed; of another part one file, where it stands in the lamp. */
export function partStl(kernel: Kernel, lamp: Lamp, name: PartName): StlFiles {
  const made = makePart(kernel, lamp, name)
  if (!made.ok) return made
  const { pieces, notes } = made
  const title = (what: string) => `${lamp.name}, ${what}`
  if (isPrinted(name)) {
    const files = pieces.map(({ name: what, count, mesh, massG }) => ({
      ...{ name: what, count, bytes: writeStl([mesh], title(what)) },
      ...(massG === undefined ? {} : { massG }),
    }))
    return { ok: true, files, notes }
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
  const made = makePart(kernel, lamp, name)
  if (!made.ok) return made
  if (!isPrinted(name)) return groupGlb(kernel, lamp, name)
  const parts = laidOut(made.pieces)
  return {
    ok: true,
    bytes: await writeGlb(parts, `${lamp.name}, ${name}`, PRINTED_NOTE),
    parts: parts.length,
    notes: made.notes,
  }
}

/** Side by side in rows about as long as all of them are deep; the bed's z becomes glTF's +Y. */
function laidOut(pieces: readonly MadePiece[]): GlbPart[] {
  const sizes = pieces.map(({ mesh }) => meshBox(mesh).to)
  const area = sizes.reduce((sum, [x, y]) => sum + (x + APART_MM) * (y + APART_MM), 0)
  const long = sizes.reduce((most, [x]) => Math.max(most, x), Math.sqrt(area))
  let [x, y, deep] = [0, 0, 0]
  return pieces.map(({ name, mesh }, i): GlbPart => {
    const [wide, high] = sizes[i] ?? [0, 0]
    if (x > 0 && x + wide > long) [x, y, deep] = [0, y + deep + APART_MM, 0]
    const place = { rotation: [1, 0, 0, 0, 0, 1, 0, -1, 0], shiftMm: [x, 0, -y] } as const
    x += wide + APART_MM
    deep = Math.max(deep, high)
    return { name, material: 'printed', mesh, place }
  })
}

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

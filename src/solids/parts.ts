// The parts of a lamp that a file can be made of, by name: what they are, whether they can be made, and their triangles.
import type { Lamp } from '../lamp/schema.ts'
import { coolingOf } from '../library/typicalPower.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { type AssemblyPart, assemblyParts, GROUPS, type Group } from './assembly.ts'
import { bedRefusal } from './bed.ts'
import { boardJig } from './boardJig.ts'
import { cups } from './cups.ts'
import { inRoom, type Kernel, meshOf, type Room } from './kernel.ts'
import { lensRingOf } from './lensRing.ts'
import { type Mesh, meshVolume, onBed, placedMesh, triangles } from './mesh.ts'
import type { Printed } from './printed.ts'
import { ringPieces } from './ringPieces.ts'
import type { Solid } from './shape.ts'
import { wireCombs } from './wireComb.ts'

export type PartName = 'assembly' | Group | 'print-lens-ring' | 'print-board-jig' | 'print-cup' | 'print-wire-comb'

interface PartInfo {
  name: PartName
  title: string
  printed: boolean
}

/** In the order of a list. */
export const PARTS: readonly PartInfo[] = [
  { name: 'assembly', title: 'The whole lamp, its parts by name', printed: false },
  { name: 'face', title: 'Face plate with its holes', printed: false },
  { name: 'sink', title: 'Fins or pins behind the plate', printed: false },
  { name: 'boards', title: 'Boards with emitters and optics', printed: false },
  { name: 'tunnel', title: 'Tunnel: stretches and steps', printed: false },
  { name: 'elements', title: 'Lens, covers and films', printed: false },
  { name: 'lens-ring', title: 'Lens ring, whole, where it stands', printed: false },
  { name: 'print-lens-ring', title: 'Lens ring, in pieces that fit the bed', printed: true },
  { name: 'print-board-jig', title: 'Jig that holds the boards while they are put on the face', printed: true },
  { name: 'print-cup', title: 'Holders for collimators, or reflector cups', printed: true },
  { name: 'print-wire-comb', title: 'Combs for the harness’s wires', printed: true },
]

/** `why` and notes have their quantities in both systems of units (num/quantity.ts). */
export interface ListedPart extends PartInfo {
  ok: boolean
  why?: string
}

/** Every part, and of those that can't be made why. What only the kernel finds out (a jig's walls), `makePart` reports. */
export const listParts = (lamp: Lamp): ListedPart[] =>
  PARTS.map((part) => {
    const why = refusalOf(lamp, part.name)
    return why === null ? { ...part, ok: true } : { ...part, ok: false, why }
  })

function refusalOf(lamp: Lamp, name: PartName): string | null {
  switch (name) {
    case 'assembly':
    case 'face':
      return null
    case 'sink': {
      const { sink } = coolingOf(lamp).value
      if (sink.kind === 'fins' || sink.kind === 'pins') return null
      return sink.kind === 'none'
        ? 'The plate has no sink.'
        : 'The sink is known by its data sheet alone, not by its shape.'
    }
    case 'boards':
      return lamp.boards.length > 0 ? null : 'The lamp has no boards.'
    case 'tunnel':
      return lamp.tunnel ? null : 'The lamp has no tunnel.'
    case 'elements':
      return lamp.lens || (lamp.elements?.length ?? 0) > 0 ? null : 'The lamp has no lens, cover or film.'
    case 'lens-ring':
      return whyNot(lensRingOf(lamp))
    case 'print-lens-ring':
      return whyNot(ringPieces(lamp))
    case 'print-board-jig':
      return lamp.boards.length > 0 ? null : 'The lamp has no boards.'
    case 'print-cup':
      return whyNot(cups(lamp))
    case 'print-wire-comb':
      return whyNot(wireCombs(lamp))
  }
}

const whyNot = (made: { ok: true } | { ok: false; why: string }): string | null => (made.ok ? null : made.why)

export interface MadePiece {
  name: string
  /** So many of it are wanted. */
  count: number
  mesh: Mesh
  /** Of a printed one, filled, of the printer's material, g. */
  massG?: number
}

export type MadePart = { ok: true; pieces: MadePiece[]; notes: string[] } | { ok: false; why: string }

/** More than this is no lamp that a viewer opens. */
const MOST_TRIANGLES = 20_000_000

/** A part's triangles, mm: a printed one's pieces on the bed, others where they stand in the lamp. */
export function makePart(kernel: Kernel, lamp: Lamp, name: PartName): MadePart {
  const why = refusalOf(lamp, name)
  if (why !== null) return { ok: false, why }
  if (isPrinted(name)) return inRoom(kernel, (room) => madePrint(room, lamp, printedOf(room, lamp, name)))
  const pieces: MadePiece[] = []
  let count = 0
  for (const { name: called, mesh, place } of assemblyMeshes(kernel, lamp, groupsOf(name))) {
    count += triangles(mesh)
    if (count > MOST_TRIANGLES) return { ok: false, why: `It has more than ${MOST_TRIANGLES} triangles.` }
    pieces.push({ name: called, count: 1, mesh: placedMesh(mesh, place) })
  }
  return { ok: true, pieces, notes: [] }
}

type PrintName = Extract<PartName, `print-${string}`>
export const isPrinted = (name: PartName): name is PrintName => name.startsWith('print-')

const groupsOf = (name: PartName): Group[] => GROUPS.filter((group) => name === 'assembly' || group === name)

function printedOf(room: Room, lamp: Lamp, name: PrintName): Printed {
  switch (name) {
    case 'print-lens-ring':
      return ringPieces(lamp)
    case 'print-board-jig':
      return boardJig(room, lamp)
    case 'print-cup':
      return cups(lamp)
    case 'print-wire-comb':
      return wireCombs(lamp)
  }
}

function madePrint(room: Room, lamp: Lamp, printed: Printed): MadePart {
  if (!printed.ok) return { ok: false, why: printed.why }
  const { printer } = workshopOf(lamp)
  const pieces: MadePiece[] = []
  for (const { name, count, solid } of printed.pieces) {
    const mesh = onBed(room.meshOf(solid))
    if (triangles(mesh) === 0) return { ok: false, why: `Nothing is left of ${name}.` }
    const why = bedRefusal(mesh, printer, name)
    if (why) return { ok: false, why }
    pieces.push({ name, count, mesh, massG: meshVolume(mesh) * printer.densityKgM3 * 1e-6 })
  }
  return { ok: true, pieces, notes: printed.notes }
}

export interface AssemblyMesh extends Omit<AssemblyPart, 'solid'> {
  /** In the part's own frame; parts of one kind have the same object. */
  mesh: Mesh
}

/** Parts with the meshes of their kinds, each made once; those of which nothing is left are left out. */
export function assemblyMeshes(kernel: Kernel, lamp: Lamp, groups: readonly Group[] = GROUPS): AssemblyMesh[] {
  const known = new Map<Solid, Mesh>()
  return assemblyParts(lamp, groups).flatMap(({ solid, ...part }) => {
    const mesh = known.get(solid) ?? meshOf(kernel, solid)
    known.set(solid, mesh)
    return triangles(mesh) > 0 ? [{ ...part, mesh }] : []
  })
}

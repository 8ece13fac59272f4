// Combs that keep the harness's wires apart and in place: a foot that is screwed down, and a slot for each wire, narrower at its mouth so
// that the insulation snaps in. One kind for each thickness of wire.
import type { Gauge, Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { gaugeAreaMm2, gaugeWords } from '../library/wireGauge.ts'
import { mm } from './bed.ts'
import { cannot, type Printed, type PrintedPiece, SOFTENS } from './printed.ts'
import { box, cut, cutRegion, disc, frustum, joinedRegion, outlines, placed, prism, type Solid } from './shape.ts'

const SCREW_MM = 3
/** Along the wires, mm. */
const DEEP_MM = 8
/** Wires in one comb; more go into further combs. */
const MOST_SLOTS = 12
/** Mouth of a slot over the wire's diameter: insulation gives way. Common practice, no source. */
const MOUTH = 0.85

/** Outside of an insulated stranded wire, mm: strands fill about 0.75 of their circle; insulation of 0.4 mm up to 1 mm², 0.8 up to 10, 1.2 above (common practice, no source). */
function insulatedMm(gauge: Gauge): number {
  const mm2 = gaugeAreaMm2(gauge)
  const bundle = Math.sqrt((4 * mm2) / (Math.PI * 0.75))
  return bundle + 2 * (mm2 <= 1 ? 0.4 : mm2 <= 10 ? 0.8 : 1.2)
}

export function wireCombs(lamp: Lamp): Printed {
  const { printer } = workshopOf(lamp)
  const { harness } = powerOf(lamp).value
  const boards = Math.max(1, lamp.boards.length)
  // Out and back; a channel for each board is the most there can be.
  const runs = [
    { gauge: harness.main.gauge, wires: 2 },
    { gauge: harness.channel.gauge, wires: 2 * boards },
    { gauge: harness.board.gauge, wires: 2 * boards },
  ]
  const kinds = new Map<string, { gauge: Gauge; wires: number }>()
  for (const { gauge, wires } of runs) {
    const key = gaugeWords(gauge)
    kinds.set(key, { gauge, wires: Math.max(wires, kinds.get(key)?.wires ?? 0) })
  }
  const made = [...kinds.values()].map(({ gauge, wires }) => comb(gauge, wires, printer))
  const pieces = made.flatMap((m) => (typeof m === 'string' ? [] : [m]))
  const refused = made.flatMap((m) => (typeof m === 'string' ? [m] : []))
  if (pieces.length === 0) return cannot(refused.join(' '))
  const notes = [
    'Outsides of wires are taken as usual for their gauge: measure yours first, and change the clearance to suit.',
    'Wires side by side warm one another: a comb doesn’t replace the derating of a bundle.',
    SOFTENS,
  ]
  return { ok: true, pieces, notes: [...refused, ...notes] }
}

function comb(gauge: Gauge, wires: number, printer: ReturnType<typeof workshopOf>['printer']): PrintedPiece | string {
  const { wallMm, clearanceMm, bedXMm, bedYMm } = printer
  const seatMm = insulatedMm(gauge) + 2 * clearanceMm
  const pitch = seatMm + wallMm
  const ear = SCREW_MM + 2 * clearanceMm + 2 * wallMm
  const room = Math.floor((Math.max(bedXMm, bedYMm) - 2 * ear - wallMm) / pitch)
  const slots = Math.min(wires, MOST_SLOTS, room)
  const highMm = wallMm + 1.35 * seatMm
  if (slots < 1 || highMm > Math.min(bedXMm, bedYMm))
    return `A comb for ${gaugeWords(gauge)} is larger than the bed: one slot and two feet take ${mm(pitch + wallMm + 2 * ear)}.`
  const length = slots * pitch + wallMm
  const seats = Array.from({ length: slots }, (_, i) => {
    const x = wallMm + seatMm / 2 + i * pitch
    const y = wallMm + seatMm / 2
    const mouth = (MOUTH * seatMm) / 2
    return joinedRegion([disc(seatMm, x, y), outlines(box(x - mouth, y, x + mouth, highMm + 1))])
  })
  const profile = cutRegion(
    joinedRegion([outlines(box(-ear, 0, length + ear, wallMm)), outlines(box(0, 0, length, highMm))]),
    joinedRegion(seats),
  )
  const solid = cut(
    prism(profile, 0, DEEP_MM),
    screwHole(-ear / 2, clearanceMm, wallMm),
    screwHole(length + ear / 2, clearanceMm, wallMm),
  )
  return { name: `wire comb, ${gaugeWords(gauge)}, ${slots} slots`, count: Math.ceil(wires / slots), solid }
}

/** Through a foot, along y. */
const screwHole = (xMm: number, clearanceMm: number, wallMm: number): Solid =>
  placed(frustum(SCREW_MM + 2 * clearanceMm, SCREW_MM + 2 * clearanceMm, -wallMm - 1, 1), {
    rotation: [1, 0, 0, 0, 0, -1, 0, 1, 0],
    shiftMm: [xMm, 0, DEEP_MM / 2],
  })

// The tunnel’s sheets: each stretch as a flat blank, in parts where the sheet at hand is smaller; curved walls as gores; steps as rings.
import { isRectangle, type Stretch, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { type Band, bandBlank, type Panel } from './band.ts'
import { type Blank, blankAreaMm2, type Laid, lay } from './blank.ts'
import { coneBlank, type SheetMetal } from './cone.ts'
import { goreBlank, goresOf, meridianOf } from './gore.ts'
import { refusedPlan, tooLarge } from './refusals.ts'
import { MM, mm } from './sizes.ts'
import { stepPlans } from './stepSheets.ts'
import type { Made, Refusal, SheetPlan, WorkshopEntry } from './types.ts'

/** So many stretches in a row whose slopes differ by less than this are one curved wall. */
const CURVED_FROM = 4
const CURVED_DEG = 5
/** Parts of one round blank, and lengths that a stretch is cut into, at most. */
const MOST_PARTS = 24
const MOST_LENGTHS = 8
/** A tunnel of more separate walls isn’t laid out (our choice): nobody bends it, and the page would wait. */
const MOST_RUNS = 60
/** A narrower strip can’t be bent by hand (our choice). */
const LEAST_SLANT_MM = 2

/** What one wall is cut from: a stretch, or those of a curve together. */
export interface WallBlanks {
  /** Number of its first stretch, from 0, and how many there are. */
  first: number
  stretches: number
  /** Of all its blanks at the neutral line, flaps included, mm². */
  areaMm2: number
}

interface LaidTunnel {
  plans: SheetPlan[]
  walls: WallBlanks[]
}

const known = new WeakMap<Tunnel, LaidTunnel & { workshop: Lamp['workshop'] }>()

/** Memoized: it rests on the tunnel and the workshop alone, and how a blank is split takes milliseconds to find. */
function laidTunnel(lamp: Lamp, tunnel: Tunnel): LaidTunnel {
  const { workshop } = lamp
  const before = known.get(tunnel)
  if (before && before.workshop === workshop) return before
  const laid = layTunnel(lamp, tunnel)
  known.set(tunnel, { ...laid, workshop })
  return known.get(tunnel) ?? laid
}

export const tunnelPlans = (lamp: Lamp): SheetPlan[] =>
  lamp.tunnel ? laidTunnel(lamp, lamp.tunnel).plans : [refusedPlan('tunnel', 'Tunnel', 'The lamp has no tunnel.')]

/** For the parts list: the walls from the face on; none where they aren't laid flat. */
export const tunnelBlanks = (lamp: Lamp): WallBlanks[] => (lamp.tunnel ? laidTunnel(lamp, lamp.tunnel).walls : [])

function layTunnel(lamp: Lamp, tunnel: Tunnel): LaidTunnel {
  const runs = runsOf(stretchesOf(tunnel))
  if (runs.length > MOST_RUNS) {
    const why = `The tunnel has ${runs.length} separate walls; at most ${MOST_RUNS} are laid flat.`
    return { plans: [refusedPlan('tunnel', 'Tunnel', why)], walls: [] }
  }
  let first = 0
  const made = runs.map((run, i) => {
    const name = runs.length === 1 ? 'tunnel' : `tunnel-${i + 1}`
    const title = runs.length === 1 ? 'Tunnel' : `Tunnel, part ${i + 1} of ${runs.length}`
    const { plans, cut } = wallSheets(lamp, run, name, title)
    const areaMm2 = cut.reduce((sum, { blank, count }) => sum + count * blankAreaMm2(blank), 0)
    const wall: WallBlanks = { first, stretches: run.length, areaMm2 }
    first += run.length
    return { plans, wall }
  })
  return {
    plans: [...made.flatMap((m) => m.plans), ...stepPlans(lamp, tunnel)],
    walls: made.map((m) => m.wall),
  }
}

/** Sheets of one wall, and what it is cut from. */
interface WallSheets {
  plans: SheetPlan[]
  cut: { blank: Blank; count: number }[]
}

/** Stretches that are one curved wall together, and those that stand alone. */
function runsOf(stretches: readonly Stretch[]): Stretch[][] {
  const smooth: Stretch[][] = []
  for (const s of stretches) {
    const run = smooth.at(-1)
    const last = run?.at(-1)
    if (run && last && follows(last, s)) run.push(s)
    else smooth.push([s])
  }
  return smooth.flatMap((run) => (run.length >= CURVED_FROM ? [run] : run.map((s) => [s])))
}

function follows(a: Stretch, b: Stretch): boolean {
  const same = Math.abs(a.outMm - b.inMm) < 1e-6 && Math.abs(a.outHeightMm - b.inHeightMm) < 1e-6
  const near = (one: number, other: number) => Math.abs(one - other) < (CURVED_DEG * Math.PI) / 180
  const [[ax, ay], [bx, by]] = [slopes(a), slopes(b)]
  return same && near(ax, bx) && near(ay, by)
}

const slopes = (s: Stretch): [number, number] => [
  Math.atan2((s.outMm - s.inMm) / 2, s.zOutMm - s.zInMm),
  Math.atan2((s.outHeightMm - s.inHeightMm) / 2, s.zOutMm - s.zInMm),
]

function wallSheets(lamp: Lamp, run: readonly Stretch[], name: string, title: string): WallSheets {
  const { tunnel } = lamp
  const [first] = run
  if (!tunnel || !first) return { plans: [], cut: [] }
  if (run.length > 1) return goreSheets(lamp, run, name, title)
  const wall =
    tunnel.sides === 0 && !isRectangle(tunnel)
      ? coneSheets(lamp, first, name, title)
      : bandSheets(lamp, first, name, title)
  if (Math.hypot(first.zOutMm - first.zInMm, (first.outMm - first.inMm) / 2) >= LEAST_SLANT_MM) return wall
  const why = `The wall from z = ${mm(first.zInMm)} to ${mm(first.zOutMm)} ${MM} is too narrow to be cut and bent.`
  return { plans: [refusedPlan(name, title, why)], cut: wall.cut }
}

function metalOf(lamp: Lamp): SheetMetal {
  const { tunnelThicknessMm, bendK, seam } = workshopOf(lamp)
  return { thicknessMm: tunnelThicknessMm, bendK, seam }
}

/** `without`: entries of the workshop that this blank doesn’t rest on. */
function blankMade(lamp: Lamp, laid: Laid, without: readonly WorkshopEntry[] = []): Made {
  const { tunnelMaterial, tunnelThicknessMm } = workshopOf(lamp)
  const all: WorkshopEntry[] = ['tunnelMaterial', 'tunnelThicknessMm', 'bendK', 'seam', 'kerfMm', 'sheetMm']
  return {
    ok: true,
    items: laid.items,
    sizes: laid.sizes,
    notes: laid.notes,
    stock: { material: tunnelMaterial, thicknessMm: tunnelThicknessMm },
    isCut: true,
    restsOn: all.filter((e) => !without.includes(e)),
  }
}

const laidOn = (lamp: Lamp, blank: Blank): Laid => lay(blank, workshopOf(lamp).sheetMm, workshopOf(lamp).kerfMm)

/** `instead`: a sentence, or the sheets that hold the same in parts. */
function blankPlan(
  lamp: Lamp,
  name: string,
  title: string,
  blank: Blank,
  instead: string | NonNullable<Refusal['instead']>,
  without?: WorkshopEntry[],
): SheetPlan {
  const laid = laidOn(lamp, blank)
  const refused = (): Refusal => {
    const why = tooLarge(lamp, laid)
    return typeof instead === 'string' ? { ok: false, why: `${why} ${instead}` } : { ok: false, why, instead }
  }
  return { name, title, draw: () => (laid.fits ? blankMade(lamp, laid, without) : refused()) }
}

/** The stretch’s k-th of `of` equal lengths. */
function lengthOf(s: Stretch, k: number, of: number): Stretch {
  const mixed = (from: number, to: number, share: number) => from + (to - from) * share
  const [from, to] = [k / of, (k + 1) / of]
  return {
    ...s,
    ...{ zInMm: mixed(s.zInMm, s.zOutMm, from), zOutMm: mixed(s.zInMm, s.zOutMm, to) },
    ...{ inMm: mixed(s.inMm, s.outMm, from), outMm: mixed(s.inMm, s.outMm, to) },
    ...{
      inHeightMm: mixed(s.inHeightMm, s.outHeightMm, from),
      outHeightMm: mixed(s.inHeightMm, s.outHeightMm, to),
    },
  }
}

const roundOf = ({ inMm, outMm, zInMm, zOutMm }: Stretch) => ({ inMm, outMm, lengthMm: zOutMm - zInMm })

function coneSheets(lamp: Lamp, stretch: Stretch, name: string, title: string): WallSheets {
  const metal = metalOf(lamp)
  // A rolled blank has no bend: its K factor stands in its own notes.
  const without: WorkshopEntry[] = ['bendK']
  const blank = coneBlank(roundOf(stretch), metal, 1)
  const whole = [{ blank, count: 1 }]
  if (laidOn(lamp, blank).fits) return { plans: [blankPlan(lamp, name, title, blank, '', without)], cut: whole }
  const split = splitCone(lamp, stretch, metal)
  const cut = split.map(({ stretch: s, parts: k }) => ({ blank: coneBlank(roundOf(s), metal, k), count: k }))
  const parts = split.map(({ stretch: s, parts: k }, i) => {
    const made = cut[i]?.blank ?? blank
    const joined = split.length > 1 ? ' Lengths meet edge on edge; close them from outside.' : ''
    const notes = [`From z = ${mm(s.zInMm)} to ${mm(s.zOutMm)} ${MM}.${joined}`, ...made.notes]
    const length = split.length > 1 ? `, length ${i + 1} of ${split.length}` : ''
    const part = split.length === 1 ? `${name}-part` : `${name}-part-${i + 1}`
    return blankPlan(lamp, part, `${title}${length}: one of ${k} parts`, { ...made, notes }, '', without)
  })
  const instead =
    split.length === 0
      ? 'Smaller parts don’t fit either.'
      : { words: `The same in ${split.reduce((sum, s) => sum + s.parts, 0)} parts`, sheets: parts }
  return {
    plans: [blankPlan(lamp, name, title, blank, instead, without), ...parts],
    cut: cut.length > 0 ? cut : whole,
  }
}

/** The fewest equal parts, and lengths, that fit on the sheet; none when nothing does. */
function splitCone(lamp: Lamp, stretch: Stretch, metal: SheetMetal): { stretch: Stretch; parts: number }[] {
  let best: { stretch: Stretch; parts: number }[] = []
  let least = Infinity
  for (let lengths = 1; lengths <= MOST_LENGTHS && lengths < least; lengths++) {
    const pieces = Array.from({ length: lengths }, (_, k) => {
      const s = lengthOf(stretch, k, lengths)
      for (let parts = 1; parts <= MOST_PARTS; parts++)
        if (laidOn(lamp, coneBlank(roundOf(s), metal, parts)).fits) return { stretch: s, parts }
      return null
    })
    const fitting = pieces.flatMap((p) => (p ? [p] : []))
    const total = fitting.reduce((sum, p) => sum + p.parts, 0)
    if (fitting.length === lengths && total < least) [best, least] = [fitting, total]
  }
  return best
}

/** The panels round the lamp, from the one that faces +x on, and the bend at their edges. */
function bandOf(lamp: Lamp, s: Stretch): Band {
  const high = s.zOutMm - s.zInMm
  const sides = lamp.tunnel?.sides ?? 4
  if (lamp.tunnel && isRectangle(lamp.tunnel)) {
    const [leanX, leanY] = slopes(s)
    const facingX: Panel = { inMm: s.inHeightMm, outMm: s.outHeightMm, slantMm: high / Math.cos(leanX) }
    const facingY: Panel = { inMm: s.inMm, outMm: s.outMm, slantMm: high / Math.cos(leanY) }
    // The walls’ outward normals are (cos, 0, −sin) and (0, cos, −sin).
    const bendRad = Math.acos(Math.sin(leanX) * Math.sin(leanY))
    return { panels: [facingX, facingY, facingX, facingY], bendRad, closes: true }
  }
  const [lean] = slopes(s)
  const flat = Math.tan(Math.PI / sides)
  const panel = { inMm: s.inMm * flat, outMm: s.outMm * flat, slantMm: high / Math.cos(lean) }
  const cosine = Math.cos(lean) ** 2 * Math.cos((2 * Math.PI) / sides) + Math.sin(lean) ** 2
  return { panels: Array.from({ length: sides }, () => panel), bendRad: Math.acos(cosine), closes: true }
}

function bandSheets(lamp: Lamp, stretch: Stretch, name: string, title: string): WallSheets {
  const metal = metalOf(lamp)
  const kinds = lamp.tunnel && isRectangle(lamp.tunnel) ? (['x', 'y'] as const) : ([null] as const)
  const panels = kinds.map((kind, i) => panelSheets(lamp, stretch, kind, i, name, title))
  const plans = panels.flatMap((p) => p.plans)
  const blank = bandBlank(bandOf(lamp, stretch), metal)
  const whole = blankPlan(lamp, name, title, blank, { words: 'Panel by panel', sheets: plans })
  const fits = laidOn(lamp, blank).fits
  return { plans: [whole, ...plans], cut: fits ? [{ blank, count: 1 }] : panels.flatMap((p) => p.cut) }
}

/** One panel alone, cut across where it is longer than the sheet. */
function panelSheets(
  lamp: Lamp,
  stretch: Stretch,
  kind: 'x' | 'y' | null,
  index: number,
  name: string,
  title: string,
): WallSheets {
  const sides = lamp.tunnel?.sides ?? 4
  const metal = metalOf(lamp)
  const count = kind ? 2 : sides
  const make = (s: Stretch): Blank => {
    const band = bandOf(lamp, s)
    const panel = band.panels[index]
    const blank = bandBlank({ panels: panel ? [panel] : [], bendRad: band.bendRad, closes: false }, metal)
    const facing = kind ? `, the walls that face ±${kind}` : ''
    return {
      ...blank,
      notes: [`Cut ${count} of these${facing}. From z = ${mm(s.zInMm)} to ${mm(s.zOutMm)} ${MM}.`, ...blank.notes],
    }
  }
  const blanks = fewestLengths((of) => Array.from({ length: of }, (_, k) => make(lengthOf(stretch, k, of))), lamp)
  const plans = blanks.map((blank, k) => {
    const part = `${name}-panel${kind ? `-${kind}` : ''}${blanks.length > 1 ? `-${k + 1}` : ''}`
    const words = `${title}${blanks.length > 1 ? `, length ${k + 1} of ${blanks.length}` : ''}: one of ${count} panels${kind ? ` facing ±${kind}` : ''}`
    return blankPlan(lamp, part, words, blank, 'Shorter lengths of it don’t fit either.')
  })
  return { plans, cut: blanks.map((blank) => ({ blank, count })) }
}

/** Of `cuts` into 1, 2 … lengths the first that fits on the sheet; whole where none does. */
function fewestLengths(cuts: (of: number) => Blank[], lamp: Lamp): Blank[] {
  const whole = cuts(1)
  for (let of = 1; of <= MOST_LENGTHS; of++) {
    const blanks = of === 1 ? whole : cuts(of)
    if (blanks.every((b) => laidOn(lamp, b).fits)) return blanks
  }
  return whole
}

function goreSheets(lamp: Lamp, run: readonly Stretch[], name: string, title: string): WallSheets {
  const { tunnel } = lamp
  if (!tunnel) return { plans: [], cut: [] }
  const metal = metalOf(lamp)
  const longer = 'A longer sheet is needed.'
  if (isRectangle(tunnel)) {
    const pairs = (['x', 'y'] as const).map((pair) => {
      const blank = goreBlank(meridianOf(run, { pair }), metal, 4, [`Cut 2 of these, the walls that face ±${pair}.`])
      return { pair, blank, count: 2 }
    })
    const plans = pairs.map(({ pair, blank }) =>
      blankPlan(lamp, `${name}-gore-${pair}`, `${title}: one of 2 walls facing ±${pair}`, blank, longer),
    )
    return { plans, cut: pairs }
  }
  const widest = run.reduce((most, s) => Math.max(most, s.inMm, s.outMm), 0)
  const { count, outsideMm } = tunnel.sides === 0 ? goresOf(widest) : { count: tunnel.sides, outsideMm: 0 }
  const words =
    tunnel.sides === 0
      ? `Cut ${count} of these. Flat across, each touches the round wall along its middle; its edges lie up to ${mm(outsideMm)} ${MM} outside it.`
      : `Cut ${count} of these, one for each side.`
  const blank = goreBlank(meridianOf(run, { count }), metal, count, [words])
  return {
    plans: [blankPlan(lamp, `${name}-gore`, `${title}: one of ${count} gores`, blank, longer)],
    cut: [{ blank, count }],
  }
}

// Limits that the document gives its parts and that no usual part bears: every finding on that part would then be silent.
import { boardTypeOf } from '../../lamp/place.ts'
import type { Lamp, Pack } from '../../lamp/schema.ts'
import { CHEMISTRIES } from '../../library/cells.ts'
import { type Finding, partOf } from '../finding.ts'
import { ampsAtMost, degreesC, plain } from '../words.ts'

/** White emitters: ${degreesC(125)} to ${degreesC(150)}, a few up to 185 °C (data sheets, from memory). */
const JUNCTION_C = 185
/** Tin, silver and copper: melts from here on (memory). */
const SOLDER_C = 217
/** Usual largest temperature of a cell that gives current (memory), and from where on a lithium cell’s own layers decay (memory). */
const CELL_C = 60
const DECAYS_C = 80
/** The best converters at their best load (common practice, no source). */
const MOST_EFFICIENCY = 0.98
/** Cells made for large currents: ten times their capacity, flat ones for models more (common practice, no source). */
const MOST_PER_AH = 15

const place = { kind: 'part', part: 'heat' } as const

export function limitsTooHigh(lamp: Lamp): Finding[] {
  const { power } = lamp
  const supply = power?.supply.kind === 'pack' ? power.supply : null
  return [
    ...emitters(lamp),
    ...drivers(lamp),
    ...(supply && lamp.boards.length > 0 ? [...cellHeat(supply), ...cellCurrent(supply)] : []),
  ]
}

function emitters(lamp: Lamp): Finding[] {
  const used = new Set(lamp.boards.map((b) => boardTypeOf(lamp, b).emitter))
  return lamp.emitterTypes
    .filter((e) => used.has(e.id) && e.maxJunctionC > JUNCTION_C)
    .map((e) => ({
      rule: 'limit-implausible',
      severity: 'warning',
      title: `“${e.name}” is entered to bear a junction of ${degreesC(e.maxJunctionC)}: usual emitters bear ${degreesC(125)} to ${degreesC(150)}, none over ${degreesC(JUNCTION_C)} is known here.`,
      why: `Every time until its limit, and that it has one, hangs on this figure. Solder of tin, silver and copper melts from ${degreesC(SOLDER_C)} on (memory): the emitter comes off its board. Limits of usual emitters: data sheets, from memory.`,
      cure: 'Enter the largest junction temperature of its data sheet.',
      place: { kind: 'part', part: 'emitters' },
      parts: lamp.boards
        .filter((b) => boardTypeOf(lamp, b).emitter === e.id)
        .map((b) => partOf({ kind: 'board', id: b.id })),
    }))
}

/** A converter that loses nothing, an emitter as cool as its board: their heat is then in no figure. */
function drivers({ power, boards, ...lamp }: Lamp): Finding[] {
  if (!power || boards.length === 0) return []
  const free = power.drivers.filter((d) => d.kind !== 'linear' && d.efficiency > MOST_EFFICIENCY)
  const cool = lamp.emitterTypes.filter((e) => e.thermalResistanceKW === 0)
  const names = [
    ...free.map((d) => `“${d.name}” (loses ${plain(100 * (1 - d.efficiency))} %)`),
    ...cool.map((e) => `“${e.name}” (0 K/W from junction to board)`),
  ]
  if (names.length === 0) return []
  return [
    {
      rule: 'limit-implausible',
      severity: 'warning',
      title: `Entered without a loss that such parts have: ${names.join(', ')}.`,
      why: `Their heat, and what it does to driver and junction, is then in no figure. Usual converters lose 3 to 15 %, the best 2 %; usual emitters have 0.5 to 15 K/W (common practice, no source).`,
      cure: 'Enter efficiency and thermal resistance from the data sheets.',
      place,
      parts: free.map((d) => partOf({ kind: 'driver', id: d.id })),
    },
  ]
}

const about = { place, parts: [partOf({ kind: 'supply' })] }

function cellHeat({ chemistry, maxCellC }: Pack): Finding[] {
  if (!(maxCellC > CELL_C)) return []
  const { label } = CHEMISTRIES[chemistry]
  const isLithium = chemistry === 'li-ion' || chemistry === 'lifepo4'
  return [
    {
      rule: 'limit-implausible',
      severity: isLithium && maxCellC > DECAYS_C ? 'severe' : 'warning',
      title: `Cells of ${label} are entered to bear ${degreesC(maxCellC)}: ${degreesC(CELL_C)} is usual.`,
      why: `That cells get too warm is found by this figure alone.${isLithium ? ` From ${degreesC(DECAYS_C)} on a lithium cell’s layers decay and heat it by themselves, up to fire.` : ''} Both temperatures: memory; the cells’ own data come first.`,
      cure: `Enter the cells’ own limit, ${degreesC(CELL_C)} where it is not known.`,
      ...about,
    },
  ]
}

function cellCurrent({ cellAh, maxCellA }: Pack): Finding[] {
  const perAh = maxCellA / cellAh
  if (!(perAh > MOST_PER_AH)) return []
  return [
    {
      rule: 'limit-implausible',
      severity: 'warning',
      title: `Cells of ${plain(cellAh)} Ah are entered to bear ${ampsAtMost(maxCellA)} that last, ${plain(perAh)} times their capacity an hour.`,
      why: `Cells made for large currents bear about ten times, flat ones for models more, and labels promise more than is true (common practice, no source). That the pack gives too much, and the largest main fuse, hang on this figure.`,
      cure: 'Enter the lasting current of the maker’s own data sheet, not that of a label or for seconds.',
      ...about,
    },
  ]
}

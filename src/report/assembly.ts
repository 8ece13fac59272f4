// The order of assembly in sentences: what is done in each step, what is checked, which cautions stand there. Common practice, no source.

import { type AssemblyStep, type Check, type CheckId, type StepCaution, stepOfPowerUp } from '../bill/assemblyOrder.ts'
import type { StepId } from '../bill/part.ts'
import type { PartsList } from '../bill/partsList.ts'
import { CAUTIONS } from '../checks/cautions.ts'
import { degreesC } from '../checks/words.ts'
import type { PowerUpItem } from '../electrothermal/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { allInSystem, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { beforePower, coverRule } from './danger.ts'
import { amountWords, partWords, STEP_TITLES } from './partsTable.ts'

const DO: Record<StepId, string> = {
  face: 'Cut the face plate to its outline and drill it by the drawing: board screws, cables, sink, stand-offs.',
  sink: 'Join the sink to the plate’s back, and mount the fan where there is one.',
  emitters: 'Solder the emitters to their boards, or have it done, and try each board before it is mounted.',
  boards: 'Spread the compound, set the boards in their places and turn their screws in.',
  protection: 'Fix sensor and cut-out to the plate where the design has them.',
  drivers: 'Mount the drivers. Nothing is connected yet.',
  wiring: 'Lay the wires by the wiring list, channel by channel, with holders and contactor. Fuses stay out.',
  beforePower: 'Measure before anything hides the boards. The supply isn’t connected.',
  optics: 'Set an optic on each emitter.',
  tunnel: 'Bend, close and mount the tunnel, stretch by stretch from the face on.',
  lens: 'Mount ring and stand-offs, then lens, panes and films from the face on.',
  cover: 'Make the cover, and put it on at once.',
  supply: 'Make the supply ready beside the lamp, disconnected.',
  channels:
    'Try one channel after the other, as the power-up list says, while the lamp is open: a thermometer reaches the boards, and no lens bundles the light.',
  powerUp: 'Connect the supply, take the cover off, and switch the whole lamp on for the first time.',
}

const mm = (x: number | undefined): string => sizeText(String(Number((x ?? 0).toFixed(2))), x ?? 0)

const CHECKS: Record<CheckId, (check: Check) => string> = {
  holesByDrawing: () => 'Every hole is where the drawing has it, at its size.',
  edgesBroken: () => 'All edges are deburred; no swarf is left.',
  faceFlat: () => 'The face is flat and clean where boards lie: no light shows under a straightedge.',
  sinkJoint: () => 'The sink lies on the plate all over; its screws are at the torque its maker states.',
  finsFree: () => 'Air can enter and leave between the fins.',
  fanTurns: () => 'The fan turns freely by hand and blows the way it should.',
  emittersAlike: () => 'All emitters of a board are of one kind, with plus where the board has it.',
  stringsGlow: () =>
    'At a few milliamperes from a supply with a current limit every emitter of a board glows alike. Don’t look straight at it.',
  compoundThin: () => 'Compound lies under the whole board, as thin as it will go; none on the pads.',
  boardTorque: () => 'Screws are at the torque the maker of board and screw states, turned crosswise in two rounds.',
  boardsInsulated: () => 'No path between any pad and the plate (meter on its highest range).',
  boardHeights: () => 'Spacers and wedges are the ones the design names, the right way round.',
  cutOutOpens: (c) => `The cut-out opens at ${degreesC(c.value ?? 0)} when it is warmed by itself.`,
  sensorTouches: () => 'Sensor and cut-out lie on the plate with compound, held so that they can’t come off.',
  driversLow: () => 'Every driver is set to its least current.',
  driversCooled: () => 'Each driver has the cooling that its maker asks for.',
  crimpsHold: () => 'Every crimp and contact holds a firm pull by hand.',
  strainRelief: () =>
    'No wire hangs on its joint, none runs over a bare edge or lies on the plate beyond its insulation’s limit.',
  colours: () => 'Colours are those of the wiring list: a function never changes its colour.',
  fusesOut: () => 'All fuses are out, the contactor is open.',
  readingsNoted: () => 'Readings are written down beside their channel.',
  opticsSeated: () => 'Every optic sits down all round, is clean, and can’t turn.',
  opticsHeight: (c) => `The exits of “${c.name}” stand ${mm(c.value)} above the face.`,
  opticsAim: () => 'Optics that are aimed look where the design has them.',
  tunnelStarts: (c) => `The tunnel begins ${mm(c.value)} above the face and touches no optic.`,
  tunnelEnds: (c) => `It ends ${mm(c.value)} above the face, square to the axis.`,
  tunnelClean: () => 'Its inside is clean and dry, without finger marks; seams let no light through.',
  lensAt: (c) => `The lens’s own plane stands ${mm(c.value)} above the face, measured at four places.`,
  elementAt: (c) => `“${c.name}” stands ${mm(c.value)} above the face.`,
  groovesToTarget: (c) => `${nameOf(c)}: grooves to the target, flat side to the emitters.`,
  groovesToSource: (c) => `${nameOf(c)}: grooves to the emitters, flat side to the target.`,
  curvedToTarget: (c) => `${nameOf(c)}: curved side to the target.`,
  curvedToSource: (c) => `${nameOf(c)}: curved side to the emitters.`,
  lensSquare: () => 'Lens, panes and films stand as the design has them, and can’t shift.',
  ringTorque: () =>
    'Screws hold without bending the lens: torque by the lens’s maker. A plastic lens has room to grow warm.',
  coverFits: () => 'The cover is opaque, of what can’t burn, covers the whole opening and can’t be blown off.',
  packByMaker: () =>
    'The pack is built, charged and stored as its maker says, with its protection board, its terminals covered.',
  disconnectedAgain: () => 'The supply is disconnected again, and the fuses are out, before you go on.',
  weakestFirst: () => 'Begin with the weakest mode; go on to the next only when plate and figures are as forecast.',
  protectionActs: () => 'Stay until cut-out or fold-back has acted once, or the plate has settled below it.',
  coverAfterwards: () => 'Off again: the cover goes on at once, the supply is disconnected.',
  supplyConnected: () => 'The supply is off. On mains, a licensed electrician connects it.',
}

const nameOf = ({ name }: Check): string => (name === undefined ? 'Lens' : `“${name}”`)

const OWN_CAUTIONS: Partial<Record<StepCaution, string>> = {
  burningGlass:
    'The bare lens is a burning glass: sunlight through it sets things alight behind it in seconds. Handle it indoors, out of the sun, wrapped until it is mounted; outdoors never without its cover.',
  drilling: 'Clamp the plate, wear eye protection, and no gloves at a turning drill.',
  sharpEdges: 'Cut sheet has edges like knives: wear gloves until they are broken.',
  soldering: 'Iron and boards burn; fumes are harmful: air the room.',
  charged: 'Capacitors of drivers and supplies stay charged after switch-off: wait, and measure before you touch.',
}

const cautionWords = (lamp: Lamp, id: StepCaution): string =>
  (id === 'daylight' ? coverRule(lamp) : OWN_CAUTIONS[id]) ?? CAUTIONS.find((c) => c.id === id)?.text ?? ''

/** Items of the same step and wording, as one, with the names of their channels in front. */
function grouped(items: readonly PowerUpItem[]): StepWords['checks'] {
  const groups = new Map<string, PowerUpItem[]>()
  for (const item of items) {
    const same = JSON.stringify([item.channel === null, item.step, item.what])
    groups.set(same, [...(groups.get(same) ?? []), item])
  }
  return [...groups.values()].flatMap((same) => {
    const [first] = same
    if (!first) return []
    const done = same.filter((i) => i.done).length
    const some = done > 0 && done < same.length ? ` (${done} of ${same.length} done)` : ''
    return { text: `${channelWords(same)}${first.what}${some}`, done: done === same.length }
  })
}

function channelWords(items: readonly PowerUpItem[]): string {
  const names = items.flatMap((i) => i.channel ?? [])
  const [first] = names
  const last = names.at(-1)
  if (first === undefined || last === undefined) return ''
  return names.length === 1 ? `${first}: ` : `${first} … ${last}, each of ${names.length}: `
}

export interface StepWords {
  title: string
  /** What is done. */
  text: string
  /** “19 × Board “Seven on a disc””. */
  parts: string[]
  checks: { text: string; done: boolean }[]
  cautions: string[]
}

/** `powerUp`: the lamp's power-up list; each of its items stands in the step that it is done in, ticked as it is there. */
export function assemblyWords(
  lamp: Lamp,
  steps: readonly AssemblyStep[],
  list: PartsList,
  powerUp: readonly PowerUpItem[],
  system: UnitSystem = 'metric',
): StepWords[] {
  const byKey = new Map(list.parts.map((p) => [p.key, p]))
  const words = steps.map(({ id, parts, checks, cautions }): StepWords => {
    const listed = grouped(powerUp.filter((item) => stepOfPowerUp(item.step) === id))
    const before = id === 'powerUp' ? beforePower(lamp).map((text) => ({ text, done: false })) : []
    const own = checks.map((check) => ({ text: CHECKS[check.id](check), done: false }))
    return {
      title: STEP_TITLES[id],
      text: DO[id],
      parts: parts.flatMap((key) => {
        const part = byKey.get(key)
        return part ? [`${amountWords(part, system)}${part.unit === 'piece' ? ' ×' : ' of'} ${partWords(part)}`] : []
      }),
      checks: [...before, ...listed, ...own],
      cautions: cautions.map((caution) => cautionWords(lamp, caution)),
    }
  })
  return allInSystem(words, system)
}

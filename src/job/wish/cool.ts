// Against the heat as little as does: of all ways to cool a lamp the first with which full light lasts and no junction gets too hot, within length, width and
// mass. A lamp that is too heavy may have a fan in place of fins, and a smaller pack as long as its seconds allow it.
import { partsList } from '../../bill/partsList.ts'
import type { ModeRun, RetainedLight } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { emitterById } from '../../library/emitters.ts'
import type { FanRow } from '../../library/typicalFans.ts'
import { retainedByPilot } from '../beam/retainedLight.ts'
import { sizesOf } from '../choose/sizes.ts'
import { preparePower } from '../power/run.ts'
import type { Answers } from '../start/answers.ts'
import { follow } from '../start/light.ts'
import { lightestPack, loadOf } from '../start/supply.ts'
import { type Built, boardLamp, buildLamp, COOLING_STEPS, type CoolingStep } from './build.ts'
import type { Wish } from './wish.ts'

export interface Bulk {
  lengthMm: number
  widthMm: number
  /** Of what moves with the head, and of what stands apart: of rows with a mass, typical fans included. */
  headG: number
  supplyG: number
}

export interface Cooled extends Bulk {
  answers: Answers
  lamp: Lamp
  fans: FanRow | null
  /** The run of the full mode. */
  full: ModeRun
  retained: RetainedLight
}

/** Fans stand beside the fins, at one end of their channels. */
function bulkOf({ lamp, fans }: Built): Bulk {
  const { lengthMm, widthMm } = sizesOf(lamp)
  const { mass, apart } = partsList(lamp)
  return {
    lengthMm,
    widthMm: Math.max(widthMm, fans ? lamp.face.sizeMm + fans.fan.depthMm : 0),
    headG: mass.knownG + (fans ? fans.count * fans.fan.gram : 0),
    supplyG: apart.knownG,
  }
}

type Candidate = Built & Bulk & { answers: Answers; isStrong: boolean }
/** Null: none that fits keeps its junctions cool for so long. */
export function coolLamp(wish: Wish & { minutes: number }, answers: Answers): Cooled | null {
  const boarded = boardLamp(answers)
  if (!boarded) return null
  // Cooling changes nothing of the light.
  const retained = retainedByPilot(boarded)
  const run = (lamp: Lamp) => {
    const full = fullRun(lamp, retained)
    return full && isCool(full, wish.minutes, answers) ? full : null
  }
  const all = [...candidates(wish, answers, boarded)]
  // Each run takes its time: where the strongest can't, none is asked.
  const strongest = all.filter((c) => c.isStrong)
  if (strongest.length > 0 && !strongest.some((c) => run(c.lamp))) return null
  for (const { isStrong: _, ...cooled } of all) {
    const full = run(cooled.lamp)
    if (full) return { ...cooled, full, retained }
  }
  return null
}

/** In the order in which they are to be tried: those light enough, then the others by their mass. */
function candidates(wish: Wish, answers: Answers, boarded: Lamp): Candidate[] {
  const mostG = 1000 * (wish.massKg ?? Infinity)
  const lighter = wish.massKg === undefined || answers.pack ? null : withLighterPack(answers)
  const light = lighter && boardLamp(lighter)
  const fits: Candidate[] = []
  const heavy: Candidate[] = []
  for (const step of COOLING_STEPS) {
    const plain = candidate(wish, answers, boarded, step)
    if (!plain || !keepsSize(wish, plain)) continue
    const least = massOf(plain) > mostG && light ? candidate(wish, lighter, light, step) : null
    const chosen = least ?? plain
    if (massOf(chosen) <= mostG) fits.push(chosen)
    else heavy.push(chosen)
  }
  return [...fits, ...heavy.sort((a, b) => massOf(a) - massOf(b))]
}

function candidate(wish: Wish, answers: Answers, boarded: Lamp, step: CoolingStep): Candidate | null {
  const built = buildLamp(wish, boarded, step)
  return (
    built && { ...built, ...bulkOf(built), answers, isStrong: COOLING_STEPS.indexOf(step) >= COOLING_STEPS.length - 2 }
  )
}

const withLighterPack = (answers: Answers): Answers => ({
  ...answers,
  pack: lightestPack(answers, loadOf(answers, follow(answers))),
})

export const massOf = ({ headG, supplyG }: Bulk): number => headG + supplyG

const keepsSize = ({ lengthMm, widthMm }: Wish, has: Bulk): boolean =>
  has.lengthMm <= (lengthMm ?? Infinity) && has.widthMm <= (widthMm ?? Infinity)

function fullRun(lamp: Lamp, retained: RetainedLight): ModeRun | null {
  const prepared = preparePower(lamp, { retained })
  const mode = prepared.modes.find((m) => m.id === 'full')
  return mode ? prepared.runUnprotected(mode) : null
}

/** Full light lasts so long and no junction gets over its rated temperature meanwhile. A pack that is too small is no matter of cooling. */
function isCool(full: ModeRun, minutes: number, { emitter }: Answers): boolean {
  if (junctionWithin(full, minutes) > emitterById(emitter).ratedJunctionC) return false
  return lastsMinutes(full) >= minutes || (full.steppedDown === null && full.limit.kind === 'empty')
}

/** Full light until it steps down, or until the run ends. */
export const lastsMinutes = (run: ModeRun): number => {
  if (run.steppedDown) return run.steppedDown.atS / 60
  return run.limit.kind === 'steady' || run.limit.kind === 'long' ? Infinity : run.limit.atS / 60
}

export const junctionWithin = ({ curves }: ModeRun, minutes: number): number =>
  curves.junctionMaxC.reduce(
    (most, c, i) => ((curves.tS[i] ?? 0) <= 60 * minutes + 1e-6 ? Math.max(most, c) : most),
    -Infinity,
  )

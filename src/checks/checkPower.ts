// Findings on heat and power: one rule for each file.
import type { Lamp } from '../lamp/schema.ts'
import { bySeverity, type Finding, inMetric } from './finding.ts'
import { airStops } from './power/airStops.ts'
import { assumedPower } from './power/assumedPower.ts'
import { boostOpen } from './power/boostOpen.ts'
import { connectorsHot } from './power/connectorsHot.ts'
import { driverHeat } from './power/driverHeat.ts'
import { driverRange } from './power/driverRange.ts'
import { driverShort } from './power/driverShort.ts'
import { emitterCurrent } from './power/emitterCurrent.ts'
import { fanIdle } from './power/fanIdle.ts'
import { finsTooWide } from './power/finsTooWide.ts'
import { fuses } from './power/fuses.ts'
import { hotDay } from './power/hotDay.ts'
import { junctionOver } from './power/junctionOver.ts'
import { limitsTooHigh } from './power/limitsTooHigh.ts'
import { opticsOverFace } from './power/opticsOverFace.ts'
import { packFire } from './power/packFire.ts'
import { packLimits } from './power/packLimits.ts'
import { packOver } from './power/packOver.ts'
import { protection } from './power/protection.ts'
import { ratedSink } from './power/ratedSink.ts'
import { ratingsUnsaid } from './power/ratingsUnsaid.ts'
import { shortUnknown } from './power/shortUnknown.ts'
import { sinkCovered } from './power/sinkCovered.ts'
import { strings } from './power/strings.ts'
import { switching } from './power/switching.ts'
import { touchHot } from './power/touchHot.ts'
import { touchVoltage } from './power/touchVoltage.ts'
import { weight } from './power/weight.ts'
import { wires } from './power/wires.ts'
import type { PowerParts } from './powerParts.ts'

const POWER: readonly ((lamp: Lamp, parts: PowerParts) => Finding[])[] = [
  junctionOver,
  protection,
  emitterCurrent,
  driverRange,
  driverShort,
  driverHeat,
  packOver,
  packLimits,
  limitsTooHigh,
  fuses,
  shortUnknown,
  switching,
  wires,
  connectorsHot,
  strings,
  touchHot,
  opticsOverFace,
  touchVoltage,
  boostOpen,
  packFire,
  weight,
  finsTooWide,
  fanIdle,
  airStops,
  hotDay,
  sinkCovered,
  ratedSink,
  ratingsUnsaid,
  assumedPower,
]

export const checkPower = (lamp: Lamp, parts: PowerParts): Finding[] =>
  bySeverity(POWER.flatMap((rule) => rule(lamp, parts)).map(inMetric))

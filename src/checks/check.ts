// All findings of a lamp. One rule for each file: design rules need only the document, sheet rules need a run.
import type { Lamp } from '../lamp/schema.ts'
import { coverLoss } from './design/coverLoss.ts'
import { etendue } from './design/etendue.ts'
import { layout } from './design/layout.ts'
import { lensFocus } from './design/lensFocus.ts'
import { lensMaterial } from './design/lensMaterial.ts'
import { noEmitters } from './design/noEmitters.ts'
import { opticalCentre } from './design/opticalCentre.ts'
import { overCurrent } from './design/overCurrent.ts'
import { raySource } from './design/raySource.ts'
import { smallLens } from './design/smallLens.ts'
import { outsideTunnel, smallTunnel } from './design/tunnelFit.ts'
import { aimedReflector, boardInTheWay, spacerHeat, throughBoards, underFace } from './design/wedge.ts'
import { wideArray } from './design/wideArray.ts'
import { bySeverity, type Finding, inMetric } from './finding.ts'
import type { SheetParts } from './parts.ts'
import { beamAside } from './sheet/beamAside.ts'
import { faceHot } from './sheet/faceHot.ts'
import { forwardBackwardDisagree } from './sheet/forwardBackwardDisagree.ts'
import { frontHot } from './sheet/frontHot.ts'
import { lensGain } from './sheet/lensGain.ts'
import { lensHot } from './sheet/lensHot.ts'
import { patterned } from './sheet/patterned.ts'
import { sunInside } from './sheet/sunInside.ts'
import { outOfReach, unfinished } from './sheet/unfinished.ts'
import { wallHot } from './sheet/wallHot.ts'

const DESIGN: readonly ((lamp: Lamp) => Finding[])[] = [
  noEmitters,
  overCurrent,
  outsideTunnel,
  smallTunnel,
  etendue,
  layout,
  smallLens,
  lensFocus,
  opticalCentre,
  lensMaterial,
  wideArray,
  coverLoss,
  raySource,
  underFace,
  boardInTheWay,
  spacerHeat,
  throughBoards,
  aimedReflector,
]

/** That no figure is to be trusted comes before what the figures say. */
const SHEET: readonly ((lamp: Lamp, parts: SheetParts) => Finding[])[] = [
  (_, parts) => forwardBackwardDisagree(parts),
  frontHot,
  sunInside,
  lensHot,
  wallHot,
  faceHot,
  lensGain,
  patterned,
  beamAside,
  (_, parts) => unfinished(parts),
  (_, parts) => outOfReach(parts),
]

/** Findings of the document alone. */
export const checkDesign = (lamp: Lamp): Finding[] => bySeverity(DESIGN.flatMap((rule) => rule(lamp)).map(inMetric))

/** Findings of a run's readings. */
export const checkSheet = (lamp: Lamp, parts: SheetParts): Finding[] =>
  bySeverity(SHEET.flatMap((rule) => rule(lamp, parts)).map(inMetric))

// The handbook's page on the physics behind each figure.
import type { FigureName } from '../../job/beam/sheet.ts'
import type { HandbookPage } from '../store/handbook.ts'

export const PHYSICS_PAGES: Partial<Record<FigureName, HandbookPage>> = {
  emittedLm: 'physics-flux',
  fluxOutLm: 'physics-flux',
  efficiency: 'physics-flux',
  axialIntensityCd: 'physics-intensity',
  peakIntensityCd: 'physics-intensity',
  patternContrast: 'physics-intensity',
  beamAngleDeg: 'physics-angles',
  fieldAngleDeg: 'physics-angles',
  halfFluxAngleDeg: 'physics-angles',
  ninetyFluxAngleDeg: 'physics-angles',
  spillOutsideBeam: 'physics-angles',
  spillOutsideField: 'physics-angles',
  spillOutsideTarget: 'physics-angles',
  targetCentreLx: 'physics-target',
  targetMeanLx: 'physics-target',
  targetMinLx: 'physics-target',
  targetEvenness: 'physics-target',
  beamDistanceM: 'physics-distance',
  inverseSquareFromM: 'physics-distance',
}

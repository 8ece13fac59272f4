// What each number of a lamp is called: the parts column's words.

/** By path without the ids: optics.fwhmDeg stands for every optic. */
const LABELS: Record<string, string> = {
  'target.distanceM': 'Distance',
  'target.widthM': 'Width',
  'target.heightM': 'Height',
  'target.coneHalfDeg': 'Cone, half angle',
  'emitters.fluxLm': 'Flux when rated',
  'emitters.ratedCurrentA': 'Rated current',
  'emitters.ratedJunctionC': 'Rated junction',
  'emitters.source.widthMm': 'Source width',
  'emitters.source.heightMm': 'Source height',
  'emitters.source.diameterMm': 'Source diameter',
  'emitters.heightMm': 'Height of the source',
  'emitters.bodyMm': 'Package diameter',
  'emitters.profile.fwhmDeg': 'Full width at half',
  'emitters.spectrum.wavelengthNm': 'Wavelength',
  'emitters.thermalResistanceKW': 'Junction to board',
  'emitters.maxCurrentA': 'Greatest current',
  'emitters.maxJunctionC': 'Greatest junction',
  'optics.exitDiameterMm': 'Exit diameter',
  'optics.heightMm': 'Exit height',
  'optics.fwhmDeg': 'Full width at half',
  'optics.fwhmYDeg': 'Full width at half, y',
  'optics.turnDeg': 'Turn of the optic',
  'optics.efficiency': 'Efficiency',
  'optics.focalMm': 'Focal length',
  'optics.reflectance': 'Reflectance',
  'optics.shiftXMm': 'Emitter off focus, x',
  'optics.shiftYMm': 'Emitter off focus, y',
  'optics.shiftZMm': 'Emitter off focus, z',
  'boardTypes.outline.widthMm': 'Board width',
  'boardTypes.outline.heightMm': 'Board height',
  'boardTypes.outline.acrossMm': 'Across',
  'boardTypes.outline.diameterMm': 'Board diameter',
  'boardTypes.outline.points': 'Points',
  'boardTypes.outline.notchMm': 'Notch depth',
  'boards.xMm': 'x',
  'boards.yMm': 'y',
  'boards.turnDeg': 'Turn',
  'boards.heightMm': 'Height',
  'boards.wedge.tiltDeg': 'Wedge, tilt',
  'boards.wedge.axisDeg': 'Wedge, axis',
  'boards.aim.xDeg': 'Aim, about x',
  'boards.aim.yDeg': 'Aim, about y',
  'aimAt.xMm': 'Point, x',
  'aimAt.yMm': 'Point, y',
  'aimAt.distanceM': 'Point, distance',
  'boards.currentA': 'Current',
  'face.sizeMm': 'Size across',
  'face.heightMm': 'Height',
  'face.reflectance': 'Reflectance',
  'face.clearanceMm': 'Between boards',
  'face.marginMm': 'To the edge',
  'tunnel.sides': 'Sides',
  'tunnel.inMm': 'Mouth at the face',
  'tunnel.outMm': 'Mouth at the lens',
  'tunnel.zInMm': 'Begins at z',
  'tunnel.zOutMm': 'Ends at z',
  'tunnel.reflectance': 'Reflectance',
  'tunnel.specularShare': 'Specular share',
  'tunnel.scatterDeg': 'Blur of the mirror',
  'lens.zMm': 'Stands at z',
  'lens.focalMm': 'Focal length',
  'lens.diameterMm': 'Size across',
  'lens.thicknessMm': 'Thickness',
  'lens.pitchMm': 'Groove pitch',
  'lens.draftDeg': 'Riser draft',
  'lens.tipShare': 'Rounded tips',
  'lens.designNm': 'Cut for',
  'lens.ownMaterial.index.nd': 'Index at 587.6 nm',
  'lens.ownMaterial.index.abbe': 'Abbe number',
  'lens.ownMaterial.index.a': 'Cauchy A',
  'lens.ownMaterial.index.bUm2': 'Cauchy B, µm²',
  'lens.ownMaterial.index.cUm4': 'Cauchy C, µm⁴',
  'lens.ownMaterial.absorption.perMm': 'Absorption per mm',
  'lens.ownMaterial.absorption.thicknessMm': 'Measured over',
  'lens.ownMaterial.densityKgM3': 'Density, kg/m³',
  'lens.ownMaterial.keepBelowC': 'Bears for long',
  'lens.ownMaterial.deflectionC': 'Sags at',
  'lens.ownMaterial.ignitionC': 'Ignites at',
  'lens.radiusMm': 'Radius of curvature',
  'lens.conic': 'Conic constant',
  'reading.axialConeHalfDeg': 'Axial cone, half',
  'reading.hotDiscMm': 'Hot spot disc',
  'reading.sunWm2': 'Sunshine',
  'reading.sunTiltDeg': 'Sun off the axis',
  'reading.ambientC': 'Air around the lamp',
  'heat.boardC': 'Boards run at',
}

/** Its own words, or the document's name for it read out: plateThicknessMm is "Plate thickness". */
export const labelOf = (kind: string): string => (Object.hasOwn(LABELS, kind) ? LABELS[kind]! : readOut(kind))

function readOut(kind: string): string {
  const key = kind
    .split('.')
    .at(-1)!
    .replace(/(Wm2|KW|Mm|Nm|Deg|Lm|M|A|C)$/, '')
  const words = key.replace(/(?<=[a-z])(?=[A-Z\d])/g, ' ').toLowerCase()
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** For the test that none is missing and none is left over. */
export const LABELLED: readonly string[] = Object.keys(LABELS)

const ENDINGS: readonly [RegExp, ParameterUnit][] = [
  // 1/mm, which its label says.
  [/perMm$/, ''],
  [/Wm2$/, 'W/m²'],
  [/KW$/, 'K/W'],
  [/Mm$/, 'mm'],
  [/Nm$/, 'nm'],
  [/Deg$/, 'deg'],
  [/Lm$/, 'lm'],
  [/M$/, 'm'],
  [/A$/, 'A'],
  [/C$/, '°C'],
  [/(reflectance|efficiency|[sS]hare)$/, 'share'],
]

/** Units stand in the names of the document's entries. */
export const unitOfKey = (key: string): ParameterUnit => ENDINGS.find(([ending]) => ending.test(key))?.[1] ?? ''
/** 'share': of 1. */

export type ParameterUnit = '' | 'share' | 'mm' | 'm' | 'nm' | 'deg' | 'lm' | 'A' | '°C' | 'K/W' | 'W/m²'

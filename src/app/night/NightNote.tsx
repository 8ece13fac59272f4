// How the picture is computed, with sources.
import type { Sheet } from '../../job/beam/sheet.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { Note } from '../ui/Note.tsx'
import { LOBES } from './model/air.ts'
import { colourWords, lightColour, ringWords } from './model/colour.ts'
import { MESOPIC } from './model/tone.ts'

function ringsText(sheet: Sheet | null): string {
  const rings = sheet?.beamColour
  if (!rings) return 'Colour over the angle waits for more rays; until then every angle has this one.'
  const apart = ringWords(rings, (sheet.figures.fieldAngleDeg?.value ?? 20) / 2)
  return `Over the angle from the axis it follows the traced wavelengths, as a mean round the axis: ${apart ?? 'middle and edge can’t be told apart'}.`
}

export function NightNote() {
  const lamp = useDesign((s) => s.lamp)
  const colour = useResult((s) => colourWords(lightColour(lamp, s.sheet)))
  const rings = useResult((s) => ringsText(s.sheet))
  return (
    <Note about="The night picture">
      <p>
        <b>Light.</b> Every surface gets E = I cos i / d² from the traced intensity, and sends back L = ρE/π: wall 50 %,
        earth 20 %, grass 10 %, water 3 %, and it mirrors what is lit (n = 1.333). There is no moon, no star and no
        other lamp. Shadows have the width of the lamp’s mouth; light thrown from surface to surface is left out.
      </p>
      <p>
        <b>Air.</b> Haze lets e^(−σs) of the light through, σ = 3.912 / visibility (Koschmieder 1924, contrast threshold
        of 2 %), and scatters all of it, once: a Henyey–Greenstein lobe ahead (g {LOBES.ahead}) and{' '}
        {LOBES.backShare * 100} % of one back (g {LOBES.back}), together 40 sr of extinction over backscatter, between
        sea air and land air (Ackermann 1998). Light scattered twice is left out: real fog is milkier.
      </p>
      <p>
        <b>Eye.</b> Response L^0.73 / (L^0.73 + L₀^0.73) about the luminance L₀ it has settled on (Naka and Rushton
        1966); colour fades from {MESOPIC.to} to {MESOPIC.from} cd/m² (range of CIE 191). Glare and the minutes an eye
        takes to settle are left out.
      </p>
      <p>
        <b>Levels.</b> The lux at the marks are those in the beam, on a surface square to it, through the haze. A lit
        street: 2 to 30 lx (EN 13201-2, P6 to P1 are means of 2 to 15 lx). A corridor has 100 lx, office work 500 lx (EN
        12464-1), the full moon 0.25 lx (ANSI/NEMA FL 1). Dusk and starlight are rough.
      </p>
      <p>
        <b>Camera.</b> White at 1.2 · 2^EV cd/m² (ISO 12232, saturation), EV at ISO 100; the dials beside it give the
        same exposure at f/2.8. Set for daylight: white is D65, clipped, sRGB curve.
      </p>
      <p>
        <b>Colour.</b> The emitters together: {colour}, shown as on a screen set to D65. {rings}
      </p>
      <p>It is an estimate for planning. Never look into the beam to compare.</p>
    </Note>
  )
}

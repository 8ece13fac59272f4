// How to measure a bought sheet of which little is known, and which of its numbers matter.
import { Part } from './Part.tsx'

export function LensGuide() {
  return (
    <Part of="lensGuide" title="Measure a sheet you have" level={3} edits="Lens">
      <div className="parts-guide">
        <p className="parts-guide-caution">
          <strong>In the sun this lens is a burning glass.</strong> Never leave it uncovered or unattended, not even for
          a minute. Keep eyes, skin and all that burns out of the cone behind it, on both sides of the spot. Never look
          at the sun through it; look at the spot only through welder’s glass. Cover it as soon as you are done, and
          store it covered.
        </p>
        <h4>Focal length: matters much</h4>
        <p>
          <em>By a far lamp, without danger:</em> at night, square to a single lamp d away (at least ten focal lengths),
          grooves towards it. Move a white card behind the sheet to the sharpest image, b from its flat side. Then f = b
          · d/(b + d). Measure three times; take the mean.
        </p>
        <p>
          <em>By the sun:</em> grooves and face square to the sun, a dry stone or firebrick behind it. Find the smallest
          spot within seconds, cover the sheet, then measure from its flat side to the stone.
        </p>
        <h4>Groove pitch: matters little, but is quick</h4>
        <p>
          Lay a rule on the grooves, photograph it close up, and count the grooves over 10 mm: the pitch is 10 mm over
          the count. Or send a laser pointer of at most 1 mW through it near the rim, away from all eyes: on a wall L
          behind, dots s apart mean a pitch of λ · L/s. At 650 nm, 2 m and 2.6 mm that is 0.5 mm.
        </p>
        <h4>Groove side</h4>
        <p>
          A fingernail drawn outwards catches on the grooves. The flat side shows a clear reflection of a window; the
          grooved side smears it into a streak.
        </p>
        <h4>Material: matters much</h4>
        <p>
          The seller’s word, or its weight for its volume: acrylic and polycarbonate 1.2 g/cm³, rigid PVC 1.4,
          polystyrene 1.05. Acrylic snaps where polycarbonate bends: try an offcut. It decides what heat the sheet
          bears: in doubt take the weakest, PVC. Leave “Facets cut in” as it is: the focal length you measured is that
          of the sheet.
        </p>
        <h4>The rest</h4>
        <p>
          The size matters much: measure the clear part, inside its frame. Draft, rounded tips and thickness matter
          little: leave 3°, 0 to 0.02 and what a caliper says. If it is cut from a larger lens, find the centre of its
          rings and give it under “Piece and place”.
        </p>
      </div>
    </Part>
  )
}

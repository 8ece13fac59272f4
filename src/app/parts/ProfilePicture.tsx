// A small plot of an emitter's angular profile, with its width as text.
import { curvePicture, type SampledProfile, widthWords } from './model/emitterCurve.ts'

const BOX = { widthPx: 262, heightPx: 96 }

export function ProfilePicture({ profile }: { profile: SampledProfile }) {
  const picture = curvePicture(profile, BOX)
  return (
    <figure className="parts-curve">
      <svg viewBox={`0 0 ${BOX.widthPx} ${BOX.heightPx}`} role="img" aria-label="Light over the angle from the axis">
        <line className="parts-curve-half" x1={0} x2={BOX.widthPx} y1={picture.halfPx} y2={picture.halfPx} />
        <text x={2} y={picture.halfPx - 3}>
          half
        </text>
        <line className="parts-curve-axis" x1={picture.middlePx} x2={picture.middlePx} y1={0} y2={picture.footPx} />
        <line className="parts-curve-foot" x1={0} x2={BOX.widthPx} y1={picture.footPx} y2={picture.footPx} />
        {picture.ticks.map((t) => (
          <text key={t.deg} x={t.xPx} y={picture.footPx + 12} textAnchor="middle">
            {t.deg < 0 ? `\u2212${-t.deg}` : t.deg}°
          </text>
        ))}
        {[...picture.curves].reverse().map((c) => (
          <path key={c.along} d={c.d} className="parts-curve-line" data-along={c.along} />
        ))}
      </svg>
      <figcaption>
        <span>{widthWords(profile)}</span>
        {picture.curves.length > 1 && <span className="parts-curve-key"> Along x drawn whole, along y dashed.</span>}
      </figcaption>
    </figure>
  )
}

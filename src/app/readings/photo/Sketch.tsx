// Before there is a picture: what it should show.

/** A wall with the beam in the middle, four marks around it, the meter's place. */
export function Sketch() {
  const marks = [
    [60, 45],
    [260, 45],
    [260, 195],
    [60, 195],
  ] as const
  return (
    <figure className="photo-sketch">
      <svg
        viewBox="0 0 320 240"
        role="img"
        aria-label="A wall with the beam in the middle, tape at the corners 1 to 4 of a rectangle around it, and L where the meter read"
      >
        <defs>
          <radialGradient id="photo-beam">
            <stop offset="0" stopColor="var(--light)" stopOpacity="0.9" />
            <stop offset="1" stopColor="var(--light)" stopOpacity="0" />
          </radialGradient>
        </defs>
        <rect x="4" y="4" width="312" height="232" className="photo-sketch-wall" />
        <ellipse cx="160" cy="120" rx="92" ry="74" fill="url(#photo-beam)" />
        <rect x="60" y="45" width="200" height="150" className="photo-sketch-rectangle" />
        {marks.map(([x, y], i) => (
          <g key={x + 1000 * y}>
            <path d={`M${x - 7} ${y}h14M${x} ${y - 7}v14`} className="photo-sketch-mark" />
            <text x={x + (x < 160 ? -16 : 16)} y={y + 4} textAnchor="middle">
              {i + 1}
            </text>
          </g>
        ))}
        <circle cx="196" cy="140" r="6" className="photo-sketch-meter" />
        <text x="212" y="145">
          L
        </text>
        <text x="160" y="212" textAnchor="middle">
          width
        </text>
        <text x="267" y="124">
          height
        </text>
      </svg>
      <figcaption className="readings-quiet">
        The picture should show this: all of the light, the four marks, and where the meter was.
      </figcaption>
    </figure>
  )
}

/** How much larger than usual text on canvases is: the root's size of text, as far as drawings have room for it. */
export function textScale(): number {
  const px = Number.parseFloat(getComputedStyle(document.documentElement).fontSize)
  return Number.isFinite(px) ? Math.min(1.3, Math.max(0.9, px / 16)) : 1
}

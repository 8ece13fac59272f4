import { useLayoutEffect, useRef, useState } from 'react'

/** Inner width of a box, for what is drawn to it. */
export function useWidth(): [{ current: HTMLDivElement | null }, number] {
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    if (!box.current) return
    // At once, for the first picture; the observer tells only with a later frame.
    setWidth(Math.floor(box.current.clientWidth))
    const watch = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)))
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [])
  return [box, width]
}

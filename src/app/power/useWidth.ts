import { useLayoutEffect, useRef, useState } from 'react'

/** Inner width of an element, px. */
export function useWidth(): [{ current: HTMLDivElement | null }, number] {
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    if (!box.current) return
    // Measured at once for the first render: the observer reports in a later frame.
    setWidth(Math.floor(box.current.clientWidth))
    const watch = new ResizeObserver(([entry]) => entry && setWidth(Math.floor(entry.contentRect.width)))
    watch.observe(box.current)
    return () => watch.disconnect()
  }, [])
  return [box, width]
}

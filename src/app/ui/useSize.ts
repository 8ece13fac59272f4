// The size of an element in whole px, followed without asking the browser for layout.
import { useEffect, useState } from 'react'

export function useSize(of: { current: HTMLElement | null }) {
  const [size, setSize] = useState<{ widthPx: number; heightPx: number } | null>(null)
  useEffect(() => {
    if (!of.current) return
    const watch = new ResizeObserver(([entry]) => {
      if (!entry) return
      const { width, height } = entry.contentRect
      setSize({ widthPx: Math.floor(width), heightPx: Math.floor(height) })
    })
    watch.observe(of.current)
    return () => watch.disconnect()
  }, [of])
  return size
}

// One line of caution, always there, and whether the lamp is being kept.
import { useDrawer } from './page.ts'

export function Foot() {
  const trouble = useDrawer((s) => s.trouble)
  return (
    <footer className="shell-foot">
      <p className="shell-caution">
        <strong>Never look into the beam. Cover the lens in daylight: sun falling in can set the lamp alight.</strong>{' '}
        <span>Figures are estimates for planning, no classification.</span>
      </p>
      <p className="shell-kept" role="status">
        {trouble ?? 'Kept in this browser by itself'}
      </p>
    </footer>
  )
}

export function SectionView() {
  return <div className="section-view" />
}

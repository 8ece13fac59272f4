export function PlanView() {
  return <div className="plan-view" />
}

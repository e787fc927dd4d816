export default function TwoBacksDesk() {
  return <p className="desk-wait soft">Not built yet.</p>;
}

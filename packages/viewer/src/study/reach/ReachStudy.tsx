export default function ReachStudy() {
  return <p className="soft">Not built yet.</p>;
}

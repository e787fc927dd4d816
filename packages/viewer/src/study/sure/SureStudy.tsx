export default function SureStudy() {
  return <p className="soft">Not built yet.</p>;
}

export default function SizingStudy() {
  return <p className="soft">Not built yet.</p>;
}

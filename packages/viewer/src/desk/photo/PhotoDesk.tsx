export default function PhotoDesk({ images }: { images: readonly File[] }) {
  return <p className="desk-wait soft">Not built yet: {images.length}.</p>;
}

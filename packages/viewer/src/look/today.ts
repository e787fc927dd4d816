/** The day on the wall where the page is read, yyyy-mm-dd. Geometry knows no clock: it is told. */
export function todayIso(): string {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

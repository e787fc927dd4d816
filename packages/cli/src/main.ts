export async function main() {
  return 0;
}

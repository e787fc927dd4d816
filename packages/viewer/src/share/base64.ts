import { REFUSAL_TEXTS } from '../look/texts/refusals.ts';

/** Bytes as base64 (RFC 4648); the browser's own reader does it, a hundred megabytes too. */
export function textOf(bytes: Uint8Array): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''));
    reader.onerror = () => reject(reader.error ?? new Error(REFUSAL_TEXTS.scanUnread));
    reader.readAsDataURL(new Blob([bytes as Uint8Array<ArrayBuffer>]));
  });
}

/** Throws DOMException where the text is no base64. */
export function bytesOf(base64: string): Uint8Array {
  return Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
}

// A chosen picture, made small enough to keep: upright, at most 2048 px on the long edge, JPEG. Drawing it anew leaves place and
// camera behind.
import type { Problem } from "../bindings/Problem";

const LONG_EDGE = 2048;
const QUALITY = 0.86;
/** Beyond this the window would have to unpack more than a phone's camera writes. */
const MOST_BYTES = 60_000_000;

/** The picture as Base64 of a JPEG. Throws a Problem where it is none. */
export async function smallPicture(file: Blob): Promise<string> {
  if (file.size > MOST_BYTES) {
    throw refused(
      `The picture has ${Math.ceil(file.size / 1e6)} MB; at most 60 MB are read.`,
      "Choose a smaller one: 2048 px on the long edge are plenty.",
    );
  }
  const unreadable = () =>
    refused("This cannot be read as a picture.", "Choose a JPEG, PNG or WebP picture, or take it again.");
  if (file.size === 0) throw unreadable();
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw unreadable();
  }
  const scale = Math.min(1, LONG_EDGE / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext("2d");
  if (!context) throw unreadable();
  // What is see-through in a PNG stands on white.
  context.fillStyle = "white";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const written = canvas.toDataURL("image/jpeg", QUALITY);
  const data = written.split(";base64,")[1];
  if (!data) throw unreadable();
  return data;
}

function refused(sentence: string, hint: string): Problem {
  return { code: "no_picture", sentence, hint, fields: [] };
}

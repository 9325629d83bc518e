// A CSV file is read here and put into the table as text; without this script it is pasted by hand.
const holder = document.getElementById("file-field");
const input = document.getElementById("file");
const table = document.getElementById("table");
const said = document.getElementById("file-said");
/* As much as a form of ours may carry. */
const MOST_BYTES = 80_000;

/* Older spreadsheets write the letters of Western Europe in one byte each. */
function words(bytes) {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

if (holder && input && table && said) {
  holder.hidden = false;
  input.addEventListener("change", async () => {
    const [file] = input.files;
    if (!file) return;
    if (file.size > MOST_BYTES) {
      said.textContent = "The file is over 80 kB: save fewer rows in it.";
      input.value = "";
      return;
    }
    table.value = words(await file.arrayBuffer());
    said.textContent = `${file.name} stands in the table below. Look at it, then keep it.`;
  });
}

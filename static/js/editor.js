// The desk: lines with numbers under the text, notes at the cursor, and the reading that follows the
// typing. The server reads the card; nothing here understands it. Without this file the buttons do.

const desk = document.getElementById("desk");
const box = document.getElementById("card");
const reading = document.getElementById("reading");
const said = document.getElementById("said");
const HEADS = /^\s*(dish|base|part|finish):/i;
const PAUSE_MS = 250;

/* --- the mirror: the same words under the text, with line numbers and marks */
const mirror = document.createElement("ol");
mirror.className = "mirror";
mirror.setAttribute("aria-hidden", "true");

function line(text, index) {
  const item = document.createElement("li");
  item.className = "l";
  item.value = index + 1;
  const words = document.createElement("span");
  const holder = HEADS.test(text) ? words.appendChild(document.createElement("b")) : words;
  for (const piece of text.split(/(\[[^\]]*\])/)) {
    if (piece.startsWith("[") && piece.endsWith("]")) {
      const mark = document.createElement("mark");
      mark.textContent = piece;
      holder.append(mark);
    } else {
      holder.append(piece);
    }
  }
  if (text === "") words.append("\u200b");
  item.append(words);
  return item;
}

/* Only lines that differ are made anew, so that a long card does not flicker. */
function mirrorText() {
  const lines = box.value.split("\n");
  lines.forEach((text, index) => {
    const old = mirror.children[index];
    if (old?.dataset.text === text) return;
    const item = line(text, index);
    item.dataset.text = text;
    if (old) {
      item.className = old.className;
      old.replaceWith(item);
    } else {
      mirror.append(item);
    }
  });
  while (mirror.children.length > lines.length) mirror.lastElementChild.remove();
}

function mirrorMarks() {
  for (const item of mirror.children) item.className = "l";
  for (const mark of mirror.querySelectorAll("mark[class]")) mark.removeAttribute("class");
  for (const remark of reading.querySelectorAll("[data-line]")) {
    const item = mirror.children[Number(remark.dataset.line) - 1];
    if (item?.className === "l") item.className = `l ${remark.dataset.mark}`;
    for (const mark of item?.querySelectorAll("mark") ?? []) {
      if (!remark.textContent.includes(`“${mark.textContent}”`)) continue;
      mark.className = remark.dataset.mark === "bad" ? "w" : "u";
    }
  }
}

/* --- the reading: asked for after a pause; an answer that is overtaken is dropped */
let waiting = 0;
let asking = null;

async function read() {
  asking?.abort();
  asking = new AbortController();
  const form = new URLSearchParams(new FormData(desk));
  form.set("do", "read");
  try {
    const answer = await fetch(desk.action, {
      method: "POST",
      body: form,
      headers: { "x-dovetray-part": "reading" },
      signal: asking.signal,
    });
    if (!answer.ok || answer.redirected) return;
    const held = reading.contains(document.activeElement);
    reading.innerHTML = await answer.text();
    if (held) box.focus();
    mirrorMarks();
    said.textContent = reading.firstElementChild?.dataset.said ?? "";
  } catch (failure) {
    if (failure.name !== "AbortError") said.textContent = "";
  }
}

function changed() {
  mirrorText();
  clearTimeout(waiting);
  waiting = setTimeout(read, PAUSE_MS);
}

/* --- notes at the cursor. The browser's own undo keeps working where it lets us write this way. */
function write(note) {
  box.focus();
  const before = box.value.slice(0, box.selectionStart);
  const after = box.value.slice(box.selectionEnd);
  const words = (/(^|\s)$/.test(before) ? "" : " ") + note + (/^(\s|$)/.test(after) ? "" : " ");
  if (!document.execCommand("insertText", false, words)) {
    box.setRangeText(words, box.selectionStart, box.selectionEnd, "end");
    changed();
  }
}

function go(number) {
  const lines = box.value.split("\n");
  const start = lines.slice(0, number - 1).reduce((sum, text) => sum + text.length + 1, 0);
  box.focus();
  box.setSelectionRange(start, start + (lines[number - 1] ?? "").length);
  mirror.children[number - 1]?.scrollIntoView({ block: "center" });
}

if (desk && box && reading) {
  box.before(mirror);
  box.parentElement.classList.add("mirrored");
  for (const row of desk.querySelectorAll(".keysrow")) row.hidden = false;
  mirrorText();
  mirrorMarks();
  box.addEventListener("input", changed);
  /* Enter beside a correction keeps the correction, not the whole dish. */
  reading.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input[name$='.meant']")) return;
    event.preventDefault();
    event.target.closest("details").querySelector("button").click();
  });
  desk.addEventListener("click", (event) => {
    const note = event.target.closest("[data-note]");
    if (note) write(note.dataset.note);
    const link = event.target.closest("[data-go]");
    if (link) {
      event.preventDefault();
      go(Number(link.dataset.go));
    }
  });
}

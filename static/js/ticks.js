// Ticks a row without leaving the page; without this script each row is a form of its own.
const count = document.getElementById("ticked");
for (const form of document.querySelectorAll("form.tickrow")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const is = form.elements.is;
    const ticked = is.value === "on";
    const answer = await fetch(form.action, {
      method: "POST",
      headers: { "dovetray-script": "yes" },
      body: new URLSearchParams(new FormData(form)),
    }).catch(() => null);
    if (!answer || !answer.ok) {
      form.submit();
      return;
    }
    is.value = ticked ? "off" : "on";
    form.classList.toggle("done", ticked);
    form.querySelector(".mark").classList.toggle("on", ticked);
    form.querySelector("button").setAttribute("aria-pressed", String(ticked));
    count.textContent = String(Number(count.textContent) + (ticked ? 1 : -1));
  });
}

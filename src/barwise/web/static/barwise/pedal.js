// The key of a pedal: learnt in its own field, then it presses the button that takes the meter.

document.addEventListener("keydown", (event) => {
  const { target, key } = event;
  const button = document.getElementById("pedal");
  const field = document.getElementById("value");
  if (target.name === "pedal" && key !== "Tab") {
    target.value = key;
    target.dispatchEvent(new Event("change", { bubbles: true }));
  } else if (button?.dataset.key === key && !field.value && [document.body, field, button].includes(target)) {
    button.click();
  } else return;
  event.preventDefault();
});

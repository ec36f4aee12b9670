//! tankday: the working day of a small finishing line, simulated and planned.

fn main() {}

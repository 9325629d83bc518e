//! An address as a picture that a telephone reads (ISO/IEC 18004, by the `qrcode` library).

use qrcode::{Color, EcLevel, QrCode};

use super::{Svg, escaped};

/// Empty modules around the picture; the standard asks for four.
const QUIET: usize = 4;

/// Draws `address`; none when it is longer than any such picture can hold.
///
/// Quarter of the picture may be greasy or torn (level M restores 15 %, Q 25 %).
pub fn qr(address: &str, says: &str) -> Option<Svg> {
    let code = QrCode::with_error_correction_level(address, EcLevel::Q).ok()?;
    let width = code.width();
    let mut path = String::new();
    for (row, cells) in code.to_colors().chunks(width).enumerate() {
        let mut column = 0;
        while column < width {
            let run = cells[column..].iter().take_while(|it| **it == Color::Dark).count();
            if run > 0 {
                path.push_str(&format!("M{} {}h{run}v1h-{run}z", column + QUIET, row + QUIET));
            }
            column += run.max(1);
        }
    }
    let side = width + 2 * QUIET;
    Some(Svg(format!(
        "<svg class=\"qr\" viewBox=\"0 0 {side} {side}\" role=\"img\" aria-label=\"{}\" \
         shape-rendering=\"crispEdges\"><path class=\"paper\" d=\"M0 0h{side}v{side}h-{side}z\"/>\
         <path class=\"ink\" d=\"{path}\"/></svg>",
        escaped(says)
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_corners_stand_where_the_standard_puts_them() {
        let drawn = qr("http://kitchen.example/c/abc", "Address of the menu").unwrap().to_string();
        assert!(drawn.contains("M4 4h7v1h-7z"), "{drawn}");
        assert!(drawn.contains("aria-label=\"Address of the menu\""));
        assert!(qr(&"x".repeat(5_000), "").is_none());
    }
}

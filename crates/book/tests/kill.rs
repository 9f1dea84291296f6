fn main() {
    println!("x");
}

# Individuals limits and six rules on columns of numbers, vectorised in base R. Reads one command a
# line, answers each with a line: the number of hits.
window <- function(flags, of, need) {
  total <- cumsum(flags)
  before <- c(rep(0, of), total)[seq_along(total)]
  total - before >= need
}

chart <- function(x) {
  center <- mean(x)
  step <- diff(x)
  sigma <- mean(abs(step)) * sqrt(pi) / 2
  z <- (x - center) / sigma
  rising <- c(FALSE, step > 0)
  falling <- c(FALSE, step < 0)
  (abs(z) > 3) + 2 * (window(z > 0, 8, 8) | window(z < 0, 8, 8)) +
    4 * (window(rising, 5, 5) | window(falling, 5, 5)) +
    8 * (window(z > 2, 3, 2) | window(z < -2, 3, 2)) +
    16 * window(abs(z) <= 1, 15, 15) +
    32 * (window(z > 1, 5, 4) | window(z < -1, 5, 4))
}

columns <- list()
input <- file("stdin", open = "r")
while (length(line <- readLines(input, n = 1)) > 0) {
  words <- strsplit(line, " ")[[1]]
  answer <- switch(words[1],
    load = {
      columns[[words[2]]] <- readBin(words[3], "double", file.size(words[3]) / 8)
      length(columns[[words[2]]])
    },
    column = sum(chart(columns[[words[2]]]) > 0),
    each = {
      parts <- matrix(columns[[words[2]]], nrow = as.integer(words[3]))
      sum(apply(parts, 2, function(part) sum(chart(part) > 0)))
    },
    0
  )
  cat(format(answer, scientific = FALSE), "\n", sep = "")
}
